"""Pictures to test with: of every format, turned, seen through, tagged, and spoilt on purpose."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

from PIL import Image, PngImagePlugin

RED, BLUE, WHITE = (220, 20, 20), (20, 20, 220), (255, 255, 255)
PLACE_TAG = b"SECRET PLACE"


def saved(image: Image.Image, kind: str, **more: Any) -> bytes:
    """The bytes of a picture's file."""
    file = io.BytesIO()
    image.save(file, kind, **more)
    return file.getvalue()


def jpeg(colour: Any = RED, size: tuple[int, int] = (64, 48), **more: Any) -> bytes:
    """A JPEG of one colour."""
    return saved(Image.new("RGB", size, colour), "JPEG", **more)


def halves(size: tuple[int, int] = (80, 40)) -> Image.Image:
    """Red on the left, blue on the right."""
    image = Image.new("RGB", size, RED)
    image.paste(BLUE, (size[0] // 2, 0, *size))
    return image


def tagged(orientation: int = 1, image: Image.Image | None = None, kind: str = "JPEG") -> bytes:
    """A picture whose file says how it was held, where, by which camera, and more."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "SECRET CAMERA"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2], gps[3], gps[4] = "N", (41.0, 24.0, 1.5), "W", (81.0, 30.0, 2.5)
    gps[29], gps[27] = "2026:11:30", PLACE_TAG
    more: dict[str, Any] = {"exif": exif}
    if kind == "JPEG":
        more |= {"comment": b"SECRET COMMENT", "xmp": b"<x:xmpmeta>SECRET XMP</x:xmpmeta>"}
    if kind == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Comment", "SECRET TEXT")
        text.add_itxt("Location", "SECRET PLACE", zip=True)
        more["pnginfo"] = text
    return saved(image or halves(), kind, **more)


def png_header(width: int, height: int) -> bytes:
    """A PNG of a few bytes that says it is as large as this."""
    parts = [b"\x89PNG\r\n\x1a\n"]
    for kind, data in (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
        (b"IDAT", zlib.compress(bytes(3000))),
        (b"IEND", b""),
    ):
        parts.append(struct.pack(">I", len(data)) + kind + data)
        parts.append(struct.pack(">I", zlib.crc32(kind + data)))
    return b"".join(parts)


def animated() -> bytes:
    """A GIF that shows red, then blue."""
    frames = [Image.new("RGB", (30, 20), colour) for colour in (RED, BLUE)]
    return saved(frames[0], "GIF", save_all=True, append_images=frames[1:], duration=100)


def of_two_pictures() -> bytes:
    """A JPEG with a second picture behind the first, as some telephones write it."""
    first, second = halves(), Image.new("RGB", (80, 40), WHITE)
    return saved(first, "MPO", save_all=True, append_images=[second])


def seen_through() -> bytes:
    """A PNG with a palette: red on the left, nothing on the right."""
    image = Image.new("RGBA", (40, 20), (*RED, 255))
    image.paste((0, 0, 0, 0), (20, 0, 40, 20))
    return saved(image.quantize(4), "PNG")
