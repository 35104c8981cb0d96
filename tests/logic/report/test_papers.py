"""Every paper, plain and at its worst, read back with pypdf, Poppler (pdftotext, pdftoppm) and qpdf."""

import io
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image
from pypdf import PdfReader

from logic.report.quote import quote_paper
from logic.report.season_plan import PlanItem
from logic.report.summary import summary, unprintable
from logic.supply.money import money
from logic.supply.quote import price_per_area, totals
from tests.logic.report.papers import (
    CHART,
    DAY,
    LONG,
    ODD,
    PAPERS,
    SPOTS,
    at_its_worst,
    care_data,
    done_quote,
    full_summary,
    job_data,
    quote_data,
    season_data,
)
from tests.logic.report.test_summary import boxes, stays_on_the_page, tool, words_of
from tests.logic.supply.samples import terms

NAMES = tuple(PAPERS)


def made(name: str, **more: Any) -> bytes:
    make, data = PAPERS[name]
    return make(data(**more))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_qpdf_finds_nothing_wrong(name: str, paper: str, tmp_path: Path) -> None:
    file = tmp_path / "paper.pdf"
    file.write_bytes(PAPERS[name][0](replace(PAPERS[name][1](), paper=paper)))
    assert "No syntax or stream encoding errors found" in tool("qpdf", "--check", file)


def word_boxes(pdf: bytes) -> list[list[tuple[float, float, float, float, str]]]:
    """Words of each page with their boxes, as Poppler finds them."""
    tree = ElementTree.fromstring(tool("pdftotext", "-bbox", "-", "-", given=pdf))
    space = "{http://www.w3.org/1999/xhtml}"
    return [
        [
            (*(float(word.attrib[k]) for k in ("xMin", "yMin", "xMax", "yMax")), word.text or "")  # type: ignore[misc]
            for word in page.iter(f"{space}word")
        ]
        for page in tree.iter(f"{space}page")
    ]


def no_words_overlap(pdf: bytes) -> None:
    """No two words of a page share more than a fifth of the smaller one's box: boxes are as high as the
    line."""
    for page in word_boxes(pdf):
        page.sort(key=lambda box: box[1])
        for place, (l1, t1, r1, b1, one) in enumerate(page):
            for l2, t2, r2, b2, other in page[place + 1 :]:
                if t2 >= b1:
                    break
                shared = max(0.0, min(r1, r2) - max(l1, l2)) * max(0.0, min(b1, b2) - max(t1, t2))
                smaller = min((r1 - l1) * (b1 - t1), (r2 - l2) * (b2 - t2))
                assert shared <= 0.2 * smaller, (one, other)


def margins_are_white(pdf: bytes, folder: Path) -> None:
    """The page as an image: nothing is printed in the outer 14 mm at the sides, or the outer 9 mm above and
    below."""
    (folder / "p.pdf").write_bytes(pdf)
    tool("pdftoppm", "-gray", "-r", "36", folder / "p.pdf", folder / "page")
    for file in sorted(folder.glob("page-*.pgm")):
        picture = Image.open(file)
        wide, high = picture.size
        for box in (
            (0, 0, 19, high),
            (wide - 19, 0, wide, high),
            (0, 0, wide, 12),
            (0, high - 12, wide, high),
        ):
            assert picture.crop(box).getextrema() == (255, 255), (file.name, box)


@pytest.mark.parametrize("name", NAMES)
def test_a_plain_paper_has_nothing_over_anything_else(name: str, tmp_path: Path) -> None:
    pdf = made(name)
    stays_on_the_page(pdf)
    no_words_overlap(pdf)
    margins_are_white(pdf, tmp_path)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("text", [LONG, ODD, "W" * 180], ids=["long", "odd", "unbroken"])
def test_forty_entries_of_long_or_odd_text_stay_in_their_place(name: str, text: str, tmp_path: Path) -> None:
    data = at_its_worst(name, text)
    pdf = PAPERS[name][0](data)
    stays_on_the_page(pdf)
    no_words_overlap(pdf)
    margins_are_white(pdf, tmp_path)
    assert len(PdfReader(io.BytesIO(pdf)).pages) > 1


@pytest.mark.parametrize("name", NAMES)
def test_odd_text_is_shown_letter_for_letter_boxes_for_what_the_font_lacks_and_named(name: str) -> None:
    data = at_its_worst(name, ODD, count=4)
    text = words_of(PAPERS[name][0](data))
    assert "□□□□" in text
    assert "<b>&</b> {name} %s" in text
    assert {"緑", "י", "😀"} <= set(unprintable(data))


@pytest.mark.parametrize("name", NAMES)
def test_the_same_data_give_the_same_file_with_its_title_language_and_bookmarks(name: str) -> None:
    assert made(name) == made(name)
    reader = PdfReader(io.BytesIO(made(name)))
    assert reader.metadata is not None
    assert reader.metadata.title
    assert reader.metadata.title.endswith(": Back putting green")
    assert reader.root_object["/Lang"] == "en-GB"
    assert reader.outline
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            assert "/FontDescriptor" not in font or "/FontFile2" in font["/FontDescriptor"]


def test_every_sum_of_a_quote_reads_as_on_screen_and_adds_up() -> None:
    data = quote_data()
    text, sums = words_of(quote_paper(data)), totals(data.quote)
    for line in data.quote.counted:
        assert " ".join(filter(None, (line.name, line.detail, line.net.text()))) in text
    assert (
        f"Total before tax {sums.net.text()} VAT at 20 % {sums.taxes[0].tax.text()} Total {sums.gross.text()}"
        in text
    )
    assert (
        f"That is {price_per_area(data.quote, data.area).text()} for each square metre, before tax." in text
    )
    assert f"For {data.area.text_with_margin()} of ground." in text
    assert "VAT: tax is worked out for each line and rounded to the nearest penny (half up)." in text
    option = data.quote.options[0]
    assert text.index("Could be had besides") < text.index(f"{option.name} {option.net.text()}")


def test_what_things_cost_the_contractor_is_not_on_the_quote() -> None:
    text = words_of(quote_paper(quote_data()))
    for line in quote_data().quote.lines:
        assert line.cost is None or line.cost == line.net or line.cost.text() not in text
    assert "mark-up" not in text


def test_a_quote_without_tax_does_not_speak_of_it() -> None:
    data = quote_data()
    lines = tuple(replace(line, tax_rate=money(0, terms().currency).amount) for line in data.quote.lines)
    text = words_of(quote_paper(replace(data, quote=replace(data.quote, lines=lines))))
    assert "VAT" not in text
    assert "before tax" not in text
    assert f"Total to pay {totals(data.quote).net.text()}" in text


def test_a_finished_quote_names_what_was_agreed_since_and_asks_for_no_signature() -> None:
    text = words_of(quote_paper(done_quote()))
    assert text.count("Work done") >= 1
    assert "Two more bags of sand (agreed since) £12.40" in text
    assert "Signature" not in text
    assert "Signature" in words_of(quote_paper(quote_data()))


def test_the_job_sheet_has_every_amount_with_what_to_allow_and_a_box_for_each() -> None:
    data = job_data()
    pdf = PAPERS["job"][0](data)
    text = words_of(pdf)
    amounts = [figure for step in data.steps for figure in step.figures]
    for figure in amounts:
        allow = ""
        if figure.order and figure.plus_minus:
            sure = replace(figure, value=figure.at_least(0.9))
            allow = f" allow {sure.text()}"
        assert f"{figure.name} {figure.text()}{allow}" in text
    for what, how_much in data.bring:
        assert f"{what} {how_much}" in text
    drawn = sum(page.get_contents().get_data().count(b" re S") for page in PdfReader(io.BytesIO(pdf)).pages)  # type: ignore[union-attr]
    assert drawn == len(amounts) + len(data.bring) + len(data.steps)


def test_the_day_is_in_order_on_the_job_sheet() -> None:
    text = " ".join(tool("pdftotext", "-", "-", given=made("job")).split())
    places = [text.index(f"{n} {step.name}") for n, step in enumerate(job_data().steps, start=1)]
    assert places == sorted(places)
    assert text.index("To bring") < places[0] < text.index("Notes of the day")


def test_job_sheets_are_in_type_that_reads_at_arm_s_length() -> None:
    """Amounts to weigh out stand in 14 points or more: their boxes are as high as their line."""
    heights = {text: bottom - top for _, _, (_, top, _, bottom), text in boxes(made("job"))}
    assert heights["661"] >= 14


YEAR_END = (date(2026, 11, 1), date(2027, 2, 28))


def test_aftercare_and_season_come_by_day_with_their_days_written_out() -> None:
    text = words_of(made("aftercare"))
    assert "14 Sep to 2 Oct 2026 Water lightly" in text
    assert text.index("Water lightly") < text.index("Keep people") < text.index("First cut, a third")
    assert text.index("At all times") < text.index("Never take more")
    plan = words_of(made("season"))
    assert "Feed, spring Suits well: 20 Mar to 5 Apr 2026 When the soil reaches 8 °C." in plan
    assert plan.index("Verticut Possible: 4 May to 28 Aug 2026") < plan.index("7 Sep to 11 Sep 2026")
    twice = (PlanItem("Feed", date(2026, 9, 1), date(2026, 9, 30)), PlanItem("Feed", *YEAR_END, "possible"))
    plan = words_of(PAPERS["season"][0](season_data(items=twice)))
    assert "Feed Suits well: September 2026 Possible: November 2026 to February 2027" in plan
    assert words_of(PAPERS["aftercare"][0](care_data(care=()))).count("Safety") == 1
    assert "Season plan" in words_of(PAPERS["season"][0](season_data(items=())))


def test_a_chart_says_each_of_its_values() -> None:
    text = words_of(summary(full_summary()))
    for day, figure in CHART.points:
        assert f"{day:%-d %b %Y}: {figure.text_with_margin()}" in text


@pytest.mark.parametrize("count", [1, 2, 60])
def test_a_chart_of_few_or_many_days_keeps_its_days_apart(count: int) -> None:
    points = tuple((DAY + timedelta(days=9 * n), CHART.points[n % 5][1]) for n in range(count))
    pdf = summary(full_summary(charts=(replace(CHART, points=points),), photos=()))
    no_words_overlap(pdf)
    stays_on_the_page(pdf)


def test_long_papers_have_contents_with_the_right_pages() -> None:
    data = at_its_worst("summary", "Coring", count=24)
    reader = PdfReader(io.BytesIO(summary(data)))
    pages = [" ".join(page.extract_text().split()) for page in reader.pages]
    listed = next(page for page in pages if "Contents" in page)
    number = next(
        n
        for n, text in enumerate(pages, start=1)
        if "How we worked this out" in text and "Contents" not in text
    )
    assert f"How we worked this out {number}" in listed
    assert "Contents" not in words_of(summary(full_summary()))


def test_the_core_names_layers_and_depths_from_the_surface_down() -> None:
    text = words_of(summary(full_summary()))
    assert "Leaf and thatch surface to 12 mm" in text
    assert (
        text.index("Sand 12 mm to 40 mm")
        < text.index("Black layer 40 mm to 44 mm")
        < text.index("Loam 44 mm")
    )


def test_readings_stand_on_the_map() -> None:
    text = words_of(summary(full_summary()))
    start = text.index("Where the readings were taken")
    for spot in SPOTS:
        assert spot.text in text[start : start + 160].split()
