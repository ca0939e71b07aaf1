"""What is printed of a picture is its pixels, upright and small, and nothing else of its file."""

import io
import os
import subprocess
import sys

import pytest
from PIL import Image, ImageOps

from survey.photos import printing
from survey.photos.photo import UnusablePhotoError
from survey.photos.printing import LONGEST_SIDE, printable
from tests.made_pictures import (
    BLUE,
    RED,
    WHITE,
    animated,
    halves,
    jpeg,
    of_two_pictures,
    png_header,
    saved,
    seen_through,
    tagged,
)


def read(made):
    image = Image.open(io.BytesIO(made.jpeg))
    image.load()
    assert image.format == "JPEG"
    assert image.mode == "RGB"
    assert image.size == (made.width, made.height)
    return image


def close_to(found, colour):
    return all(abs(one - other) < 20 for one, other in zip(found, colour, strict=True))


def corners(image):
    right, low = image.width - 4, image.height - 4
    return [image.getpixel(place) for place in ((3, 3), (right, 3), (3, low), (right, low))]


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_stands_as_it_was_seen(orientation):
    quarters = Image.new("RGB", (80, 40), RED)
    quarters.paste(BLUE, (40, 0, 80, 20))
    quarters.paste(WHITE, (0, 20, 40, 40))
    source = tagged(orientation, quarters, "PNG")
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(source)))
    image = read(printable(source))
    assert image.size == upright.size == ((40, 80) if orientation > 4 else (80, 40))
    for found, colour in zip(corners(image), corners(upright), strict=True):
        assert close_to(found, colour)


def test_a_picture_is_turned_after_it_is_made_small_as_well_as_before():
    image = read(printable(tagged(6, halves((3000, 1500)))))
    assert image.size == (500, 1000)
    assert close_to(image.getpixel((250, 30)), RED)
    assert close_to(image.getpixel((250, 970)), BLUE)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", [1, 6])
def test_nothing_of_the_file_but_its_pixels_is_left(kind, orientation):
    source = tagged(orientation, kind=kind)
    assert Image.open(io.BytesIO(source)).getexif().get_ifd(0x8825)[1] == "N"
    made = printable(source)
    image = read(made)
    assert not image.getexif()
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    for mark in (b"SECRET", b"Exif", b"GPS", b"xmp", b"ICC_PROFILE", b"2026"):
        assert mark not in made.jpeg
    assert b"\xff\xe1" not in made.jpeg[:600]  # APP1, where EXIF and XMP stand
    assert b"\xff\xfe" not in made.jpeg[:600]  # a comment


def test_the_text_of_a_png_was_there_before():
    assert b"SECRET TEXT" in tagged(kind="PNG")
    assert b"SECRET COMMENT" in tagged()
    assert b"SECRET XMP" in tagged()


@pytest.mark.parametrize(
    ("size", "made"),
    [((4000, 3000), (1000, 750)), ((300, 1200), (250, 1000)), ((640, 480), (640, 480)),
     ((1, 1), (1, 1)), ((20000, 1), (1000, 1))],
)  # fmt: skip
def test_a_large_picture_is_made_small_and_a_small_one_is_left(size, made):
    assert read(printable(jpeg(size=size))).size == made
    assert max(made) <= LONGEST_SIDE
    assert printable(jpeg(size=size)).effort == size[0] * size[1]


def test_of_a_film_the_first_frame_is_shown():
    assert close_to(read(printable(animated())).getpixel((15, 10)), RED)


def test_of_two_pictures_in_one_file_the_first_is_shown():
    image = read(printable(of_two_pictures()))
    assert close_to(image.getpixel((5, 20)), RED)
    assert close_to(image.getpixel((75, 20)), BLUE)


@pytest.mark.parametrize(
    ("mode", "colour", "kind"),
    [
        ("CMYK", (30, 250, 250, 30), "JPEG"), ("L", 80, "JPEG"), ("RGB", RED, "PNG"),
        ("P", 1, "PNG"), ("L", 80, "PNG"), ("1", 1, "PNG"), ("LA", (80, 255), "PNG"),
    ],
)  # fmt: skip
def test_any_way_of_storing_colour_is_read(mode, colour, kind):
    image = Image.new(mode, (30, 20), colour)
    if mode == "P":
        image.putpalette([*RED, *BLUE])
    wanted = image.convert("RGB").getpixel((15, 10))
    assert close_to(read(printable(saved(image, kind))).getpixel((15, 10)), wanted)


def test_what_can_be_seen_through_stands_on_white():
    image = read(printable(seen_through()))
    assert close_to(image.getpixel((8, 10)), RED)
    assert close_to(image.getpixel((32, 10)), WHITE)


def test_grey_of_sixteen_bits_is_not_cut_off_to_white():
    image = Image.new("I;16", (30, 20), 0x4000)
    assert close_to(read(printable(saved(image, "PNG"))).getpixel((15, 10)), (64, 64, 64))


@pytest.mark.parametrize("size", [(60_000, 60_000), (2_000_000_000, 2), (5_001, 5_000)])
def test_a_picture_that_would_fill_the_memory_is_refused_unread(size):
    with pytest.raises(UnusablePhotoError, match="more than 25 million pixels: save it smaller"):
        printable(png_header(*size))


def test_a_picture_of_endless_layers_is_refused():
    layered = jpeg(comment=b"\xff\xda" * 100, progressive=True)
    with pytest.raises(UnusablePhotoError, match=r"comes in \d+ layers: save it again"):
        printable(layered)
    assert printable(jpeg(comment=b"\xff\xda" * 100)).effort == 64 * 48


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "GIF", "WEBP"])
def test_a_file_that_is_cut_short_is_told(kind):
    noise = Image.frombytes("RGB", (200, 200), os.urandom(120_000))
    whole = saved(noise, kind)
    with pytest.raises(UnusablePhotoError, match=r"damaged or cut short|is no picture") as told:
        printable(whole[: len(whole) // 2])
    assert told.value.effort == {"JPEG": 1, "PNG": 20, "GIF": 20, "WEBP": 0}[kind] * 200 * 200


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "is no picture in JPEG, PNG, GIF or WebP"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is no picture in JPEG"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(100), "HEIC"),
        (saved(Image.new("RGB", (9, 9)), "TIFF"), "is no picture in JPEG"),
        (saved(Image.new("RGB", (9, 9)), "BMP"), "is no picture in JPEG"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "is no picture in JPEG"),
        (b"\xff\xd8\xff\xe0junk", "is no picture|is damaged"),
        (b"\x89PNG\r\n\x1a\njunk", "is no picture|is damaged"),
    ],
)
def test_what_is_no_picture_is_told_with_what_to_do(content, why):
    with pytest.raises(UnusablePhotoError, match=why) as told:
        printable(content)
    assert "save it as JPEG" in str(told.value) or "send it again" in str(told.value)


def test_spoilt_bytes_of_any_picture_end_in_a_picture_or_a_message():
    sources = [tagged(6), tagged(kind="PNG"), animated(), seen_through(), tagged(kind="WEBP")]
    told = 0
    for source in sources:
        for at in range(0, len(source), max(1, len(source) // 60)):
            spoilt = bytearray(source)
            spoilt[at] ^= 0xFF
            try:
                printable(bytes(spoilt))
            except UnusablePhotoError:
                told += 1
    assert told


def test_the_library_that_reads_pictures_is_loaded_only_for_one():
    code = "import sys, survey.photos; print('PIL' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
    assert "PIL" not in vars(printing)
