"""A photo on the phone: chosen, made small and upright, there after a kill, on paper without what it told."""

import io
from pathlib import Path

from PIL import Image, ImageOps
from pypdf import PdfReader

from tests.journeys.hand import Hand
from tests.journeys.phone import Phone, until
from tests.journeys.test_papers import open_demo_visit
from tests.logic.report.test_exif import photo as camera_photo

STRIPE = (250, 230, 40)


def turned_photo() -> bytes:
    """3000 × 2000 px with a bright stripe, which Exif has turned, and with the place where it was taken."""
    tags = Image.open(io.BytesIO(camera_photo(orientation=6))).getexif()
    picture = Image.new("RGB", (3000, 2000), (60, 110, 60))
    picture.paste(STRIPE, (0, 0, 400, 2000))
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=tags.tobytes(), quality=90)
    return out.getvalue()


def choose(hand: Hand, button: str, file: Path) -> str | None:
    """Answer the file chooser that a button opens; the camera that it asked for, if one."""
    with hand.phone.page.expect_file_chooser() as asked:
        hand.tap(button)
    camera = asked.value.element.get_attribute("capture")
    asked.value.set_files(file)
    return camera


def thumbs(hand: Hand) -> list[str]:
    """What the thumbnails on the screen say."""
    shown = hand.phone.by_id("thumb").all()
    return [str(one.get_attribute("aria-label") or one.inner_text()) for one in shown]


def test_a_photo_is_kept_upright_and_small_and_goes_on_paper(phone: Phone, tmp_path: Path) -> None:
    data = turned_photo()
    file, broken = tmp_path / "turned.jpg", tmp_path / "broken.jpg"
    file.write_bytes(data)
    broken.write_bytes(data[:300])
    hand = open_demo_visit(phone)
    assert choose(hand, "Choose photos", file) is None
    until(lambda: thumbs(hand) == ["Photo, Before"], 40, "the photo is there")
    assert choose(hand, "Take a photo", broken) == "environment"
    hand.to_top()
    hand.sees("This file can't be read as a photo, so nothing was added.")
    hand.tap("Dismiss")

    phone.kill()
    phone.switch_on()
    phone.open()
    phone.semantics()
    hand = Hand(phone)
    hand.sees("1 photo")
    hand.reach(phone.by_id("thumb").first)
    phone.by_id("thumb").first.click()
    hand.sees("1067 × 1600")
    hand.type("Caption", "From the gate")
    hand.tap("After")
    hand.tap("Take it out")
    hand.sees("Photo From the gate is in the bin.")
    hand.to_top()
    hand.tap("Undo", nth=1)
    until(lambda: thumbs(hand) == ["Photo, After, From the gate"], 40, "the photo is back")

    hand.to_top()
    hand.tap("All papers")
    hand.tap("Make the summary")
    paper = hand.save_offered(tmp_path).read_bytes()
    pages = PdfReader(io.BytesIO(paper)).pages
    assert "From the gate" in " ".join(page.extract_text() for page in pages)
    images = [image for page in pages for image in page.images]
    assert len(images) == 1
    printed = Image.open(io.BytesIO(images[0].data))
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data))).resize(printed.size)
    assert printed.size == (1067, 1600)
    for at in ((533, 100), (533, 1500), (60, 800), (1000, 800)):
        assert max(abs(a - b) for a, b in zip(printed.getpixel(at), upright.getpixel(at), strict=True)) < 16
    assert b"Exif" not in paper
    assert b"GPS" not in paper
