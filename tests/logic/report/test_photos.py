"""Photos: the right way up by Pillow's own account, broken and huge ones named, paired before and after."""

import contextlib
import io
import random
from pathlib import Path

import pytest
from PIL import Image, ImageOps
from pypdf import PdfReader

from logic.report import jpeg
from logic.report.jpeg import BadPhoto, LargePhoto, read_jpeg
from logic.report.photos import Photo, pairs, problem_of
from logic.report.summary import summary
from tests.logic.report.papers import DAY, full_summary
from tests.logic.report.papers import jpeg as photo
from tests.logic.report.test_summary import tool, words_of


@pytest.mark.parametrize("exif", range(1, 9))
def test_size_and_orientation_are_those_that_pillow_reads(exif: int) -> None:
    data = photo(320, 200, exif=exif)
    read = read_jpeg(data)
    picture = Image.open(io.BytesIO(data))
    assert (read.width, read.height) == picture.size
    assert read.orientation == picture.getexif().get(0x0112, 1)
    assert read.upright == ImageOps.exif_transpose(picture).size


@pytest.mark.parametrize("exif", range(1, 9))
def test_a_photo_is_printed_the_right_way_up(exif: int, tmp_path: Path) -> None:
    """The bright stripe lies in the paper's image where Pillow's transposed photo has it."""
    data = photo(400, 300, (200, 40, 60), exif)
    file = tmp_path / "s.pdf"
    file.write_bytes(
        summary(full_summary(photos=(Photo(data),), charts=(), core=(), maps=(), works=(), working=False))
    )
    tool("pdftoppm", "-png", "-r", "72", file, tmp_path / "page")
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    found = []
    for page in sorted(tmp_path.glob("page-*.png")):
        picture = Image.open(page).convert("RGB")
        pixels = picture.load()
        wide, high = picture.size
        spots = [(x, y) for x in range(wide) for y in range(high) if is_photo(pixels[x, y])]
        if len(spots) > 5000:
            box = (
                min(x for x, _ in spots),
                min(y for _, y in spots),
                max(x for x, _ in spots),
                max(y for _, y in spots),
            )
            found.append(picture.crop(box).resize(upright.size))
    assert len(found) == 1
    for x in (0.06, 0.5, 0.94):
        for y in (0.06, 0.5, 0.94):
            at = (int(x * upright.width), int(y * upright.height))
            assert is_bright(found[0].getpixel(at)) == is_bright(upright.getpixel(at)), (x, y)


def is_bright(pixel: tuple[int, int, int]) -> bool:
    return pixel[0] > 180 and pixel[2] < 150


def is_photo(pixel: tuple[int, int, int]) -> bool:
    """Yellow or red: the papers themselves are black, grey and green."""
    return is_bright(pixel) or (pixel[0] > 150 and pixel[1] < 90)


def test_a_photo_goes_into_the_file_byte_for_byte_and_once() -> None:
    data = photo()
    pdf = summary(full_summary(photos=(Photo(data, when="before"), Photo(data, when="after"))))
    assert pdf.count(b"/DCTDecode") == 1
    images = [image for page in PdfReader(io.BytesIO(pdf)).pages for image in page.images]
    assert pdf.count(data) == 1
    assert Image.open(io.BytesIO(images[0].data)).size == (640, 480)


@pytest.mark.parametrize("kind", ["L", "CMYK"])
def test_grey_and_cmyk_photos_can_be_read(kind: str) -> None:
    out = io.BytesIO()
    Image.new(kind, (30, 20)).save(out, "JPEG")
    assert read_jpeg(out.getvalue()).components == len(kind)


BROKEN = {
    "nothing": b"",
    "a png": b"\x89PNG\r\n\x1a\n" + bytes(50),
    "text": b"not a photo",
    "only a start": b"\xff\xd8",
    "cut off": photo()[:1500],
    "cut off in the picture": photo()[:-40],
    "no picture": photo()[:20] + b"\xff\xd9",
    "nothing high": photo().replace(b"\x01\xe0\x02\x80", b"\x00\x00\x02\x80"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_photo_leaves_a_frame_that_says_so_and_the_paper_is_whole(name: str, tmp_path: Path) -> None:
    bad = Photo(BROKEN[name], "The gate", DAY, "before")
    assert problem_of(bad) == "This photo can't be read."
    pdf = summary(full_summary(photos=(bad, Photo(photo(), when="after"))))
    assert "This photo can't be read." in words_of(pdf)
    file = tmp_path / "s.pdf"
    file.write_bytes(pdf)
    tool("qpdf", "--check", file)
    assert pdf.count(b"/DCTDecode") == 1


def test_a_huge_photo_is_left_out_and_named(monkeypatch: pytest.MonkeyPatch) -> None:
    dice = random.Random(1)
    noise = Image.frombytes("RGB", (1500, 1500), dice.randbytes(1500 * 1500 * 3))
    out = io.BytesIO()
    noise.save(out, "JPEG", quality=97)
    assert len(out.getvalue()) > jpeg.MOST_BYTES
    huge = Photo(out.getvalue())
    assert problem_of(huge).startswith("This photo is too large")
    pdf = summary(full_summary(photos=(huge,)))
    assert "This photo is too large to print" in words_of(pdf)
    assert len(pdf) < 200_000
    monkeypatch.setattr(jpeg, "MOST_PIXELS", 1000)
    with pytest.raises(LargePhoto):
        read_jpeg(photo())


def test_bytes_changed_at_random_never_break_the_paper() -> None:
    """Each is either printed or named; nothing else is raised."""
    dice = random.Random(7)
    good = photo(64, 48, exif=6)
    for _ in range(300):
        data = bytearray(good)
        for _ in range(dice.randint(1, 4)):
            data[dice.randrange(len(data))] = dice.randrange(256)
        with contextlib.suppress(BadPhoto):
            assert (
                read_jpeg(bytes(data[: dice.randint(1, len(data))] if dice.random() < 0.3 else data)).width
                > 0
            )


def test_before_stands_beside_after_and_the_rest_two_by_two() -> None:
    names = {"b1": "before", "a1": "after", "b2": "before", "x": "", "y": ""}
    photos = [Photo(b"", name, None, when) for name, when in names.items()]  # type: ignore[arg-type]
    couples = [(one.caption, other.caption if other else None) for one, other in pairs(photos)]
    assert couples == [("b1", "a1"), ("b2", "x"), ("y", None)]
