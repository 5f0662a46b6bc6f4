"""Photographs: checked by decoding them, turned upright, scaled down, and written anew without what else they carry."""

import re
from contextlib import suppress
from io import BytesIO
from typing import Any

from PIL import Image, ImageCms, ImageOps

from planner.files.problems import HouseFault, Problem
from planner.units import quoted

FORMATS = ("JPEG", "PNG", "WEBP")
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
"""What a picture's name ends in, whatever the case."""

LARGEST_PICTURE = 20_000_000
"""A picture has no more bytes than this."""

MOST_PIXELS = 54_000_000
"""A picture has no more pixels than this: a file of a few bytes can ask for the memory of millions."""

MOST_SCANS = 100
"""A JPEG comes in no more passes over its pixels than this; cameras write one, programs about ten. A pass takes a few
bytes, and as long as all pixels (from memory: what decoders bound against such files)."""

LONGEST_SIDE = 1_600
"""The longest side of a picture that is kept [px]: sharp on a screen, and a page wide in print."""

JPEG_BEGINS = b"\xff\xd8"
START_OF_IMAGE, END_OF_IMAGE, START_OF_SCAN = 0xD8, 0xD9, 0xDA
MARKER = re.compile(rb"\xff[^\x00\x01\xd0-\xd7\xff]", re.DOTALL)
"""In a JPEG what follows 0xFF, but for stuffed bytes and for markers that stand alone among the pixels."""

QUALITY = 85
"""Of a JPEG, as its writers count it."""

REMEDY = "give a photograph as JPEG, PNG or WebP"


def scaled_down(data: bytes, file: str, longest: int = LONGEST_SIDE) -> bytes:
    """A picture as a JPEG that is upright, no longer than `longest` [px], and holds nothing but its pixels: no place
    where it was taken, no maker, no comment. Of one that moves it is the first picture.

    Parameters
    ----------
    data : of a JPEG, PNG or WebP file, whatever its name says.
    file : what it is called in a fault.

    Raises
    ------
    HouseFault : it is none, is not whole, or has too many bytes or pixels.
    """
    if len(data) > LARGEST_PICTURE:
        raise _fault(file, f"is larger than {LARGEST_PICTURE // 1_000_000} MB", "save it smaller")
    if _scans(data) > MOST_SCANS:
        raise _fault(file, f"is a JPEG of more than {MOST_SCANS} passes", "save it anew")
    try:
        with Image.open(BytesIO(data), formats=FORMATS) as image:
            if image.width * image.height > MOST_PIXELS:
                raise _too_many(file)
            image.draft("RGB", (longest, longest))  # a JPEG is decoded no larger than that needs
            image.load()
            small = _in_eight_bits(image)
            small.thumbnail((longest, longest), Image.Resampling.LANCZOS)
            return _written(_in_srgb(_upright(small)))
    except HouseFault:
        raise
    except Image.DecompressionBombError as error:
        raise _too_many(file) from error
    except Exception as error:  # decoders fail in whatever way the bytes before them lead to
        message = "is no picture that can be read" if data else "is empty"
        raise _fault(file, message, REMEDY) from error


def is_picture_name(name: str) -> bool:
    """Whether a file's name ends as that of a picture.

    >>> is_picture_name("Hall.JPG"), is_picture_name("hall.heic")
    (True, False)
    """
    return name.lower().endswith(ENDINGS)


def _scans(data: bytes) -> int:
    """How many passes a JPEG makes over its pixels, up to one more than MOST_SCANS; none of what is no JPEG.

    Segments are passed over by their lengths, so that what is stored in one, or after the end, does not count (ITU-T
    Recommendation T.81, 1992, annex B).
    """
    at = scans = 0
    while scans <= MOST_SCANS and data.startswith(JPEG_BEGINS) and (found := MARKER.search(data, at)):
        kind, at = found[0][1], found.end()
        if kind == END_OF_IMAGE:
            break
        if kind != START_OF_IMAGE:
            scans += kind == START_OF_SCAN
            at += max(2, int.from_bytes(data[at : at + 2], "big"))
    return scans


def _written(image: Image.Image) -> bytes:
    """A picture in red, green, blue and, where it is clear, alpha, as the bytes of a JPEG."""
    bare = Image.new("RGB", image.size, "white")  # what the file said beside its pixels stays behind
    bare.paste(image, mask=image.getchannel("A") if "A" in image.getbands() else None)
    out = BytesIO()
    bare.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def _in_eight_bits(image: Image.Image) -> Image.Image:
    """A picture whose pixels can be averaged."""
    if image.mode == "I;16":
        return image.point(lambda level: level / 256).convert("L")
    if image.mode in ("L", "RGB", "RGBA", "CMYK") and "transparency" not in image.info:
        return image
    return image.convert("RGBA" if "A" in image.getbands() or "transparency" in image.info else "RGB")


def _upright(image: Image.Image) -> Image.Image:
    with suppress(Exception):  # a picture whose record of how it was held is torn is shown as it is
        return ImageOps.exif_transpose(image)
    return image


def _in_srgb(image: Image.Image) -> Image.Image:
    """A picture in the colours that screens take bytes for."""
    profile: Any = image.info.get("icc_profile")
    if profile and image.mode in ("RGB", "CMYK"):
        with suppress(Exception):  # a torn profile says nothing
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            found = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
            return found if found is not None else image.convert("RGB")
    return image if image.mode == "RGBA" else image.convert("RGB")


def _too_many(file: str) -> HouseFault:
    return _fault(file, f"has more than {MOST_PIXELS // 1_000_000} million pixels", "save it smaller")


def _fault(file: str, message: str, remedy: str) -> HouseFault:
    return HouseFault([Problem(quoted(file, 200), None, None, message, remedy)])
