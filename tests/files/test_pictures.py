"""Photographs: upright, small and bare of metadata; whatever else is handed in is refused in words."""

import random
import struct
import zlib
from io import BytesIO
from time import perf_counter

import pytest
from PIL import Image, ImageCms, ImageDraw

from planner.files.pictures import LARGEST_PICTURE, LONGEST_SIDE, scaled_down
from planner.files.problems import HouseFault

ORIENTATION, GPS, MAKER = 0x0112, 0x8825, 0x010F


def picture(size=(400, 200), mode="RGB", color="red"):
    """A picture that is red at the left and blue at the right."""
    made = Image.new("RGB", size, color)
    ImageDraw.Draw(made).rectangle((size[0] // 2, 0, *size), "blue")
    return made.convert(mode)


def saved(image, kind="JPEG", **said):
    out = BytesIO()
    image.save(out, kind, **said)
    return out.getvalue()


def read(data):
    return Image.open(BytesIO(data), formats=["JPEG"])


def refused(data, name="hall.jpg"):
    with pytest.raises(HouseFault) as told:
        scaled_down(data, name)
    (problem,) = told.value.problems
    return problem


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width, height, *chunks):
    """A PNG that says it is so large, whatever its chunks hold."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + b"".join(chunks) + chunk(b"IEND", b"")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_picture_is_as_long_as_what_is_kept_and_as_wide_as_it_was(kind):
    small = read(scaled_down(saved(picture((3200, 800)), kind), "hall"))
    assert small.size == (LONGEST_SIDE, 400) and small.mode == "RGB"
    assert small.getpixel((100, 200))[0] > 200 and small.getpixel((1500, 200))[2] > 200


def test_a_small_picture_is_not_blown_up():
    assert read(scaled_down(saved(picture((40, 20))), "hall")).size == (40, 20)


UPRIGHT = {1: (10, 100), 2: (390, 100), 3: (390, 100), 6: (100, 10), 8: (100, 390)}
"""Where the left of a picture is once it is upright, by how the camera was held."""


@pytest.mark.parametrize("orientation", UPRIGHT)
def test_it_is_turned_as_it_was_held(orientation):
    image = picture()
    said = image.getexif()
    said[ORIENTATION] = orientation
    small = read(scaled_down(saved(image, exif=said), "hall"))
    assert small.size == ((400, 200) if orientation < 5 else (200, 400))
    assert small.getpixel(UPRIGHT[orientation])[0] > 200


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_is_told_of_where_or_with_what_it_was_taken(kind):
    image = picture()
    said = image.getexif()
    said[MAKER] = "INVENTED-MAKER"
    said.get_ifd(GPS).update({1: "N", 2: (51.0, 30.0, 12.0)})
    more = {"JPEG": {"comment": b"INVENTED-COMMENT"}, "WEBP": {"xmp": b"INVENTED-XMP"}}.get(kind, {})
    before = saved(
        image, kind, exif=said, icc_profile=ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(), **more
    )
    assert b"INVENTED-MAKER" in before
    after = scaled_down(before, "hall")
    small = read(after)
    assert b"INVENTED" not in after and b"Exif" not in after and b"ICC" not in after
    assert dict(small.getexif()) == {} and set(small.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "I;16"])
def test_pictures_of_every_kind_of_pixel_are_read(mode):
    image = Image.new("I;16", (400, 200), 40_000) if mode == "I;16" else picture(mode=mode)
    level = read(scaled_down(saved(image, "PNG"), "hall")).convert("L").getpixel((100, 100))
    assert 0 < level < 255 or mode == "1"


def test_what_is_clear_in_a_picture_is_white():
    assert read(scaled_down(saved(Image.new("RGBA", (40, 40)), "PNG"), "hall")).getpixel((20, 20)) == (255, 255, 255)


def test_a_torn_record_of_how_it_was_held_does_not_lose_the_picture():
    data = saved(picture(), exif=b"Exif\x00\x00II*\x00\xff\xff\xff\x7f" + bytes(40))
    assert read(scaled_down(data, "hall")).size == (400, 200)


def test_a_file_that_asks_for_more_memory_than_pictures_need_is_refused_before_it_is_decoded():
    for side in (8_000, 9_000, 20_000, 100_000, 2**31 - 1):
        assert "more than 54 million pixels" in refused(png(side, side)).message or side > 2**30
    bomb = zlib.compress(bytes(20_000_000), 9)
    problem = refused(png(30_000, 30_000, chunk(b"IDAT", bomb)))
    assert problem.message == "has more than 54 million pixels" and problem.remedy == "save it smaller"


def test_a_file_of_too_many_bytes_is_refused():
    assert refused(bytes(LARGEST_PICTURE + 1)).message == "is larger than 20 MB"


GOOD = {kind: saved(picture(), kind) for kind in ("JPEG", "PNG", "WEBP")}
FOREIGN = [saved(picture(), kind) for kind in ("GIF", "BMP", "TIFF", "PPM", "ICO", "TGA", "PDF")]
FOREIGN += [b"", b"\0", b"hello", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"%PDF-1.7", b"MZ" + bytes(100)]
FOREIGN += [
    b"\xff\xd8\xff",
    b"\x89PNG\r\n\x1a\n",
    b"RIFF\x10\0\0\0WEBPVP8 ",
    b"PK\x03\x04" + bytes(50),
    b"GIF89a" + bytes(9),
]
FOREIGN += [png(10, 10), png(0, 0), png(10, 10, chunk(b"IDAT", b"torn")), png(5, 5, chunk(b"zTXt", b"a\0\0torn"))]
FOREIGN += [png(4, 4, chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(200_000_000), 9)))]


def broken(number):
    """One of many files that are no whole picture: cut off, or foreign under a picture's name."""
    chance = random.Random(number)
    if number < len(FOREIGN):
        return FOREIGN[number]
    data = GOOD[chance.choice(list(GOOD))]
    return data[: chance.randrange(len(data) * 9 // 10)]


@pytest.mark.parametrize("number", range(120))
def test_what_is_no_whole_picture_is_refused_in_words(number):
    problem = refused(broken(number), name='<b>"hall"\n.jpg')
    assert problem.message in ("is no picture that can be read", "is empty") and "\n" not in str(problem)


@pytest.mark.parametrize("number", range(120))
def test_a_picture_with_bytes_changed_at_random_is_read_or_refused_in_words(number):
    chance = random.Random(number)
    data = bytearray(GOOD[chance.choice(list(GOOD))])
    for _ in range(chance.choice((1, 5, 50))):
        data[chance.randrange(len(data))] = chance.randrange(256)
    try:
        small = scaled_down(bytes(data), "hall.jpg")
    except HouseFault as fault:
        assert len(fault.problems) == 1
    else:
        assert max(read(small).size) <= LONGEST_SIDE


def scanned(passes):
    """A JPEG that comes in so many passes: its last, which says nothing new, over and over."""
    data = saved(Image.new("L", (800, 800), 128), progressive=True)
    last = data.rindex(b"\xff\xda")
    written = data.count(b"\xff\xda")
    return data[:-2] + data[last:-2] * (passes - written) + data[-2:]


def test_a_jpeg_of_endless_passes_is_refused_before_it_is_decoded():
    begun = perf_counter()
    problem = refused(scanned(50_000))
    assert problem.message == "is a JPEG of more than 100 passes" and problem.remedy == "save it anew"
    assert perf_counter() - begun < 1
    assert read(scaled_down(scanned(60), "hall")).size == (800, 800)


def test_passes_that_are_only_spoken_of_do_not_count():
    hidden = b"\xff\xda\x00\x02" * 5_000
    data = saved(picture(), exif=b"Exif\x00\x00" + hidden) + hidden
    assert read(scaled_down(data, "hall")).size == (400, 200)
