"""Make a picture ready for print: its pixels, upright and small, and nothing else of its file.

The file may be anything. What it says of itself is looked at before a pixel is unpacked, and the
only formats tried are those named here.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING

from survey.photos.photo import UnusablePhotoError

if TYPE_CHECKING:
    from PIL.Image import Image, Transpose

FORMATS = ("JPEG", "PNG", "GIF", "WEBP")
LONGEST_SIDE = 1000  # pixels
QUALITY = 80  # of JPEG, up to 95
# A JPEG is unpacked small, whatever its size; a telephone's largest have 50 million pixels. Any
# other picture is unpacked whole, in up to 20 bytes a pixel; a page of A3 scanned has 18 million.
MOST_PIXELS_OF_JPEG, MOST_PIXELS = 64_000_000, 25_000_000
# A JPEG that comes in layers is gone over once for each, however little there is in them.
_MOST_LAYERS = 30
_DEARER_THAN_JPEG = 20  # a pixel of any other picture, as measured with WebP
_JPEG, _LAYER = b"\xff\xd8", b"\xff\xda"
_MADE_SMALL_AS_THEY_ARE = {"RGB", "RGBA", "L", "CMYK"}
_ORIENTATION = 0x0112  # a tag of the EXIF standard
_ISO_MEDIA = b"ftyp"  # how HEIC, AVIF and films begin, after four bytes
_SAVE_AS_JPEG = "save it as JPEG and send that along"
_SAVE_AGAIN = "save it again as an ordinary JPEG and send that along"


@dataclass(frozen=True, slots=True)
class Print:
    """A picture ready for print, as JPEG.

    Args:
        effort: what it cost to unpack, in pixels of an ordinary JPEG.
    """

    jpeg: bytes
    width: int
    height: int
    effort: int


def printable(content: bytes) -> Print:
    """Make a picture ready for print.

    Turned as its camera held it, on white where it can be seen through, at most 1,000 pixels long;
    of several frames the first.

    Raises:
        UnusablePhotoError: it is no picture that can be read, is damaged, or has more than 25
            million pixels; a JPEG, 64 million.
    """
    from PIL import Image, UnidentifiedImageError

    effort = 0
    try:
        with (
            warnings.catch_warnings(action="ignore"),
            Image.open(io.BytesIO(content), formats=FORMATS) as opened,
        ):
            effort = _effort(opened, content)
            return Print(*_printed(opened), effort)
    except UnidentifiedImageError:
        raise UnusablePhotoError(_no_picture(content)) from None
    except Image.DecompressionBombError:
        raise UnusablePhotoError(_too_large(MOST_PIXELS)) from None
    except UnusablePhotoError:
        raise
    except Exception:  # a file made to do harm can make the library fail in any way
        raise UnusablePhotoError("is damaged or cut short: send it again", effort) from None


def _printed(opened: Image) -> tuple[bytes, int, int]:
    """The JPEG for print, its width and its height."""
    from PIL import Image

    turned = _turn(opened)
    longest = LONGEST_SIDE, LONGEST_SIDE
    opened.draft("RGB", longest)  # JPEG unpacks at a half, a quarter or an eighth by itself
    picture = opened if opened.mode in _MADE_SMALL_AS_THEY_ARE else _plain(opened)
    picture.thumbnail(longest, Image.Resampling.LANCZOS)
    picture = _plain(picture)
    if turned is not None:
        picture = picture.transpose(turned)
    # Onto a new sheet, which has no data but its pixels.
    sheet = Image.new("RGB", picture.size, "white")
    sheet.paste(picture, mask=picture.getchannel("A") if picture.mode == "RGBA" else None)
    written = io.BytesIO()
    sheet.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue(), sheet.width, sheet.height


def _effort(opened: Image, content: bytes) -> int:
    """What it will cost to unpack a picture, before any pixel of it is.

    Raises:
        UnusablePhotoError: more than it is worth.
    """
    pixels, is_jpeg = opened.width * opened.height, content.startswith(_JPEG)
    most = MOST_PIXELS_OF_JPEG if is_jpeg else MOST_PIXELS
    if pixels > most:
        raise UnusablePhotoError(_too_large(most))
    layers = content.count(_LAYER) if is_jpeg and "progressive" in opened.info else 1
    if layers > _MOST_LAYERS:
        raise UnusablePhotoError(f"comes in {layers} layers: {_SAVE_AGAIN}")
    return pixels * (layers if is_jpeg else _DEARER_THAN_JPEG)


def _plain(opened: Image) -> Image:
    """The picture in red, green and blue, with what can be seen through where it has that."""
    if opened.mode in {"RGB", "RGBA"} and "transparency" not in opened.info:
        return opened
    if opened.mode.startswith("I"):  # grey of 16 bits, which the library would cut off, not scale
        return opened.convert("I").point(lambda grey: grey * (1 / 256)).convert("L").convert("RGB")
    return opened.convert("RGBA" if opened.has_transparency_data else "RGB")


def _turn(opened: Image) -> Transpose | None:
    """How the picture has to be turned to stand as it was seen."""
    from PIL.Image import Transpose

    try:
        orientation = int(opened.getexif().get(_ORIENTATION, 1))
    except Exception:  # whatever is wrong with its data, the pixels can still be seen
        return None
    return {
        2: Transpose.FLIP_LEFT_RIGHT, 3: Transpose.ROTATE_180, 4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE, 6: Transpose.ROTATE_270, 7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }.get(orientation)  # fmt: skip


def _no_picture(content: bytes) -> str:
    if content[4:8] == _ISO_MEDIA:
        return f"is in a format of telephones (such as HEIC) that is not read here: {_SAVE_AS_JPEG}"
    return f"is no picture in JPEG, PNG, GIF or WebP: {_SAVE_AS_JPEG}"


def _too_large(most: int) -> str:
    return f"has more than {most // 10**6} million pixels: save it smaller"
