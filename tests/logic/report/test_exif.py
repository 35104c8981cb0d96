"""What a camera wrote into a photo, held against Pillow's own writing and reading of it."""

import io
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.ExifTags import GPS, IFD, Base

from logic.report.exif import Exif, exif_of, read_exif


def photo(orientation: int = 6, taken: str = "2026:09:14 10:05:30", south: bool = False) -> bytes:
    """A small JPEG with Exif that Pillow has written."""
    picture = Image.new("RGB", (64, 48), (60, 110, 60))
    tags = picture.getexif()
    tags[Base.Orientation] = orientation
    tags.get_ifd(IFD.Exif)[Base.DateTimeOriginal] = taken
    where = tags.get_ifd(IFD.GPSInfo)
    where[GPS.GPSLatitudeRef], where[GPS.GPSLatitude] = "S" if south else "N", (51.0, 30.0, 15.5)
    where[GPS.GPSLongitudeRef], where[GPS.GPSLongitude] = "W", (0.0, 7.0, 40.0)
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=tags.tobytes())
    return out.getvalue()


@pytest.mark.parametrize("orientation", range(1, 9))
def test_what_pillow_wrote_is_read(orientation: int) -> None:
    found = exif_of(photo(orientation))
    assert found.orientation == orientation
    assert found.taken == "2026-09-14T10:05:30"
    north, east = (float(part) for part in found.place.split(","))
    assert north == pytest.approx(51 + 30 / 60 + 15.5 / 3600, abs=1e-5)
    assert east == pytest.approx(-(7 / 60 + 40 / 3600), abs=1e-5)


def test_south_is_negative_and_an_odd_time_is_left_out() -> None:
    found = exif_of(photo(taken="soon", south=True))
    assert found.place.startswith("-51.5")
    assert found.taken == ""


def test_the_start_of_the_file_is_enough() -> None:
    data = photo()
    assert exif_of(data[:1000]) == exif_of(data) != Exif()


def test_no_exif_says_nothing() -> None:
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, "JPEG")
    assert exif_of(out.getvalue()) == exif_of(b"") == exif_of(b"\x89PNG") == Exif()


@given(st.binary(max_size=200))
def test_any_bytes_are_read_without_a_fault(data: bytes) -> None:
    assert 1 <= read_exif(b"II*\0\x08\0\0\0" + data).orientation <= 8


def test_a_spoilt_block_is_read_without_a_fault() -> None:
    dice, good = random.Random(3), photo()
    for _ in range(400):
        data = bytearray(good)
        for _ in range(3):
            data[dice.randrange(4, 300)] = dice.randrange(256)
        assert 1 <= exif_of(bytes(data)).orientation <= 8
