"""The customer summary, read back with pypdf, Poppler (pdftotext, pdftoppm) and qpdf."""

import io
import re
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from reportlab.lib.colors import HexColor

from logic.report import style
from logic.report.content import Party
from logic.report.summary import summary, unprintable
from tests.logic.report.samples import FIRM, summary_data

LONG = (
    "Sir Bartholomew Fotheringay-Montmorency of the Greater Lower Upper Wending Bowling and Croquet Green "
    * 3
)
HOSTILE = Party(
    name='<b>&"',
    person="<img src=http://example.com/x.png>",
    address="</para>\n&amp; <br/>\x00\x1b[31m\u202eabc\n{name} %s",
    phone="<font size=99>",
    email="a@example.com",
)


def words_of(pdf: bytes) -> str:
    """All text of a PDF as pypdf reads it, white space as single spaces."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())


def tool(*command: str | Path, given: bytes | None = None) -> str:
    done = subprocess.run([str(c) for c in command], input=given, capture_output=True, check=False)
    assert done.returncode == 0, done.stdout.decode() + done.stderr.decode()
    return done.stdout.decode()


def boxes(pdf: bytes) -> Iterator[tuple[float, float, tuple[float, float, float, float], str]]:
    """Width and height of the page, box and text of every word, as Poppler finds them."""
    tree = ElementTree.fromstring(tool("pdftotext", "-bbox", "-", "-", given=pdf))
    space = "{http://www.w3.org/1999/xhtml}"
    for page in tree.iter(f"{space}page"):
        for word in page.iter(f"{space}word"):
            box = [float(word.attrib[k]) for k in ("xMin", "yMin", "xMax", "yMax")]
            yield float(page.attrib["width"]), float(page.attrib["height"]), tuple(box), word.text or ""


def stays_on_the_page(pdf: bytes) -> None:
    side = style.page("a4").side
    for width, height, (left, top, right, bottom), text in boxes(pdf):
        assert left >= side - 1, text
        assert right <= width - side + 1, text
        assert top >= 20, text
        assert bottom <= height - 20, text


@pytest.mark.parametrize("system", ["metric", "imperial", "us"])
def test_every_figure_on_paper_reads_as_the_figure_says(system: str) -> None:
    data = summary_data(system=system)
    text = words_of(summary(data))
    shown = [data.outline.area, data.outline.perimeter, data.outline.longest_run]
    for figure in (*shown, *(f for work in data.works for f in work.shown)):
        assert f"{figure.name} {figure.text_with_margin(system)}" in text
    for figure in (*data.outline.figures, *(f for work in data.works for f in work.figures)):
        amount = figure.text_with_margin(system)
        assert f"{figure.name}: {amount}" in text
        for line in figure.working(system):
            assert line in text
        assert f"Source: {figure.source}" in text


def test_a_customer_reads_the_headlines_and_all_else_stands_in_the_working() -> None:
    data = summary_data()
    first = words_of(summary(replace(data, working=False)))
    assert "How we worked this out" not in first
    for work in data.works:
        assert all(f"{f.name} {f.text_with_margin()}" in first for f in work.figures if f.headline)
    assert not any("Source:" in page for page in first.split("Page"))
    quiet = [f for f in data.works[1].figures if not f.headline]
    assert quiet
    assert all(f"{f.name} {f.text_with_margin()}" not in first for f in quiet)


def test_qpdf_finds_nothing_wrong(tmp_path: Path) -> None:
    for name, data in (
        ("plain", summary_data()),
        ("letter", summary_data(paper="letter", letterhead=HOSTILE)),
    ):
        file = tmp_path / f"{name}.pdf"
        file.write_bytes(summary(data))
        assert "No syntax or stream encoding errors found" in tool("qpdf", "--check", file)


def test_the_text_runs_in_reading_order() -> None:
    data = summary_data()
    text = " ".join(tool("pdftotext", "-", "-", given=summary(data)).split())
    places = [
        *("Hartwell Fine Turf", "Renovation summary", "Imelda Quillfeather", "The ground", "The work"),
        *(f"{n} {work.name}" for n, work in enumerate(data.works, start=1)),
        *(
            "Sprinkler head by the oak.",
            "Looking after it",
            "Water lightly",
            "Safety",
            "How we worked this out",
        ),
    ]
    found = [text.index(words) for words in places]
    assert found == sorted(found)


def test_what_people_typed_comes_out_as_typed() -> None:
    data = summary_data(
        letterhead=HOSTILE,
        client=HOSTILE,
        sward='<b>&"',
        notes="<img src=x> & </para> <a href='x'>\n{0} %d",
        aftercare=("<script>alert(1)</script>",),
    )
    text = words_of(summary(data))
    for typed in ('<b>&"', "<img src=http://example.com/x.png>", "</para> &amp; <br/>[31mabc {name} %s"):
        assert text.count(typed) >= 2, typed
    assert "<img src=x> & </para> <a href='x'> {0} %d" in text
    assert "• <script>alert(1)</script>" in text


def test_characters_that_the_font_lacks_come_out_as_boxes_and_are_named() -> None:
    data = summary_data(sward="緑 green 😀", notes="שלום")
    assert unprintable(data) == ("緑", "😀", "ש", "ל", "ו", "ם")
    assert "□ green □" in words_of(summary(data))
    assert unprintable(summary_data(notes="½ m² → £5 naïve Δ")) == ()


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(
    "more",
    [
        {},
        {"sward": LONG, "letterhead": Party(LONG, LONG, LONG, LONG, LONG), "client": Party(LONG, "", LONG)},
        {"sward": "W" * 400, "client": Party("w" * 400, address="x\n" * 120), "notes": "m" * 3000},
        {
            "letterhead": Party(),
            "client": Party(),
            "sward": "",
            "sward_kind": "",
            "aftercare": (),
            "notes": "",
        },
        {"aftercare": tuple(f"{n}. {LONG}" for n in range(40))},
    ],
    ids=["plain", "long", "unbroken", "empty", "many"],
)
def test_nothing_leaves_the_page(paper: Any, more: dict[str, Any]) -> None:
    data = summary_data(paper=paper, **more)
    pdf = summary(data)
    width = {"a4": 210, "letter": 215.9}[paper] * 72 / 25.4  # ISO 216; US Letter is 8.5 in wide
    assert float(PdfReader(io.BytesIO(pdf)).pages[0].mediabox.width) == pytest.approx(width, abs=0.01)
    stays_on_the_page(pdf)


def test_a_job_without_works_is_a_measurement() -> None:
    text = words_of(summary(summary_data(works=[])))
    assert "The ground" in text
    assert "The work " not in text


def test_pages_are_numbered_and_bookmarked() -> None:
    data = summary_data()
    reader = PdfReader(io.BytesIO(summary(data)))
    for number, page in enumerate(reader.pages, start=1):
        assert f"Page {number} of {len(reader.pages)}" in page.extract_text()
    flat: list[Any] = [
        entry for item in reader.outline for entry in (item if isinstance(item, list) else [item])
    ]
    titles = [entry.title for entry in flat]
    for n, work in enumerate(data.works, start=1):
        entry = flat[titles.index(f"{n} {work.name}")]
        page = reader.pages[reader.get_destination_page_number(entry)]
        assert f"{n} {work.name}" in " ".join(page.extract_text().split())


def test_the_file_describes_itself() -> None:
    reader = PdfReader(io.BytesIO(summary(summary_data())))
    assert reader.metadata is not None
    assert reader.metadata.title == "Renovation summary: Back putting green"
    assert reader.metadata.author == FIRM.name
    assert reader.metadata.subject == "Imelda Quillfeather, 14 September 2026"
    assert reader.metadata.creation_date is not None
    assert reader.metadata.creation_date.date() == date(2026, 9, 14)
    assert reader.root_object["/Lang"] == "en-GB"


def test_every_font_is_embedded() -> None:
    seen = set()
    for page in PdfReader(io.BytesIO(summary(summary_data(notes="Ω → ½ ΓДŁ")))).pages:
        for font in page["/Resources"]["/Font"].values():
            if "/FontDescriptor" in font:
                assert "/FontFile2" in font["/FontDescriptor"]
                seen.add(re.sub(r"^/[A-Z]{6}\+", "", font["/BaseFont"]))
    shown = tool("pdffonts", "-", given=summary(summary_data()))
    assert {name.replace("-Regular", "") for name in seen} == {"Sward", "Sward-Bold"}
    assert all(line.split()[-5:-2] == ["yes", "yes", "yes"] for line in shown.splitlines()[2:]), shown


def test_the_same_job_and_day_give_the_same_file() -> None:
    assert summary(summary_data()) == summary(summary_data())
    assert summary(summary_data()) != summary(summary_data(day=date(2026, 9, 15)))


def test_progress_is_told_between_the_stages() -> None:
    told: list[tuple[str, float]] = []
    summary(summary_data(), progress=lambda stage, share: told.append((stage, share)))
    assert [told[0], told[-1]] == [("layout", 0.0), ("done", 1.0)]
    pages = [share for stage, share in told if stage == "pages"]
    assert len(pages) > 3
    assert pages == sorted(pages)


def luminance(colour: HexColor) -> float:
    """Relative luminance. Source: W3C, Web Content Accessibility Guidelines 2.2, definition of the term."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour.rgb()]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


@pytest.mark.parametrize(
    ("colour", "ground"),
    [
        (style.INK, style.PAPER),
        (style.GREEN, style.PAPER),
        (style.QUIET, style.PAPER),
        (style.INK, style.TINT),
    ],
    ids=["text", "heading", "label", "lettering"],
)
def test_text_stands_out_by_lightness_alone(colour: HexColor, ground: HexColor) -> None:
    assert (luminance(ground) + 0.05) / (luminance(colour) + 0.05) >= 7


def test_a_print_without_colour_keeps_the_outline_of_the_green(tmp_path: Path) -> None:
    """In greys at 144 dots an inch, the long sides of a drawn rectangle are dark lines on a pale field."""
    data = summary_data({"method": "rectangle", "length": "12 m", "width": "8 m"}, works=[])
    file = tmp_path / "summary.pdf"
    file.write_bytes(summary(data))
    assert "1:150" in words_of(file.read_bytes())
    tool("pdftoppm", "-gray", "-r", "144", "-singlefile", file, tmp_path / "page")
    _, size, _, greys = (tmp_path / "page.pgm").read_bytes().split(b"\n", 3)
    wide = int(size.split()[0])
    rows = [greys[start : start + wide] for start in range(0, len(greys), wide)]
    long_side = 12 / 150 / 0.0254 * 144
    dark = [
        n for n, row in enumerate(rows) if 0.95 * long_side < sum(grey < 90 for grey in row) < 1.2 * long_side
    ]
    assert dark
    assert dark[-1] - dark[0] == pytest.approx(8 / 150 / 0.0254 * 144, abs=5)
    field = rows[(dark[0] + dark[-1]) // 4 + dark[0] // 2]
    assert sum(220 < grey < 250 for grey in field) > 0.9 * long_side
