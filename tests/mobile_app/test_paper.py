"""The papers of a green with a past say what the book holds, figure by figure, read back with pypdf."""

import io
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from logic.programme.day_json import from_json
from logic.programme.sheet import differences
from mobile_app import paper, photos
from tests.logic.report.test_summary import tool
from tests.mobile_app.rich import PLACES, rich
from tests.mobile_app.stand import Stand, played


def words_of(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


async def made(hand: Stand, key: str) -> str:
    """The words of a paper of the visit in hand."""
    return words_of((await paper.make(hand.app, hand.app.visit_in_hand(), key, lambda share: None)).file)


def test_the_summary_says_what_was_found_done_agreed_and_signed() -> None:
    async def story(hand: Stand) -> None:
        visit = await rich(hand)
        text = await made(hand, "summary")
        data = paper.data_of(hand.app, visit)
        for section in data.findings:
            for figure in section.shown:
                assert f"{figure.name} {figure.text_with_margin()}" in text
        assert [one.title for one in data.maps] == ["Soil moisture"]
        assert sorted(float(spot.text.split()[0]) for spot in data.maps[0].spots) == sorted(PLACES.values())
        assert [layer.bottom.nominal for layer in data.core] == [11, 38, 42, 140]
        for found in differences(from_json(visit.day)):
            assert found.reason in text
            assert f"{float(found.actual.split()[0]):.0f} {found.actual.split()[1]}" in text
        assert "Left out: rain was on its way" in text
        assert "solid tines instead, at the north end" in text
        assert "Agreed by Imelda Quillfeather, 14 September 2026" in text
        assert "The bank is cut once for nothing." in text
        assert "Signed by Imelda Quillfeather, 14 September 2026" in text

    played(story)


def test_the_charts_hold_every_visit_up_to_this_one_and_none_after() -> None:
    async def story(hand: Stand) -> None:
        visit = await rich(hand, pairs=0)
        charts = {chart.title: chart for chart in paper.data_of(hand.app, visit).charts}
        heights = [figure.nominal for _, figure in charts["True height of cut"].points]
        assert heights == pytest.approx([7, 6.2, 5.6, 5.1])
        assert [figure.nominal for _, figure in charts["Organic matter"].points] == pytest.approx(
            [6.1, 5.6, 5.2, 4.9]
        )
        oldest = hand.app.book.visits_of(visit.sward_id)[-1]
        assert paper.data_of(hand.app, oldest).charts == ()
        second = hand.app.book.visits_of(visit.sward_id)[-2]
        assert all(len(chart.points) == 2 for chart in paper.data_of(hand.app, second).charts)

    played(story)


def test_photos_stand_in_the_summary_once_each_before_beside_after() -> None:
    async def story(hand: Stand) -> None:
        await rich(hand)
        pdf = (await paper.make(hand.app, hand.app.visit_in_hand(), "summary", lambda share: None)).file
        pages = PdfReader(io.BytesIO(pdf)).pages
        found = {image.data for page in pages for image in page.images}
        assert len(found) == 4
        text = words_of(pdf)
        assert text.index("Before, 14 September 2026") < text.index("After, 14 September 2026")
        (first, *_) = photos.photos_of(hand.app, hand.app.visit_in_hand().id)
        await hand.device.photos.remove(first.sha256)
        assert "This photo can't be read." in await made(hand, "summary")

    played(story)


def test_the_quote_is_signed_where_it_was_signed() -> None:
    async def story(hand: Stand) -> None:
        visit = await rich(hand, pairs=0)
        text = await made(hand, "quote")
        assert text.count("Signed by Imelda Quillfeather, 14 September 2026") == 1
        hand.app.edit(replace(visit, signature={"name": "x", "at": "soon", "strokes": [["a"], 3, [[1]]]}))
        text = await made(hand, "quote")
        assert "Signed by" not in text
        assert "Signature" in text

    played(story)


def test_the_aftercare_sheet_has_the_days_of_the_care_that_was_agreed() -> None:
    async def story(hand: Stand) -> None:
        visit = await rich(hand, pairs=0)
        hand.app.edit(replace(visit, care={"start": "2026-09-20", "height_kept": "5 mm"}))
        text = await made(hand, "aftercare")
        assert "20 Sep" in text
        assert "14 Sep to" not in text
        for word in ("What is normal", "Ring us when", "Cut 1: to"):
            assert word in text

    played(story)


def test_the_season_plan_has_the_months_that_suit_each_work() -> None:
    async def story(hand: Stand) -> None:
        await rich(hand, pairs=0)
        text = await made(hand, "season")
        for word in ("September 2026", "August 2027", "Hollow coring", "Overseeding", "Topdressing"):
            assert word in text

    played(story)


def test_every_paper_of_a_green_with_a_past_is_a_sound_file(tmp_path: Path) -> None:
    async def story(hand: Stand) -> None:
        visit = await rich(hand)
        shares: list[float] = []
        for key in ("summary", "quote", "job", "aftercare", "season"):
            one = await paper.make(hand.app, visit, key, shares.append)
            (tmp_path / f"{key}.pdf").write_bytes(one.file)
            tool("qpdf", "--check", tmp_path / f"{key}.pdf")
            assert len(PdfReader(io.BytesIO(one.file)).pages) == len(one.sheets)
            assert one.warning == ""
        assert all(0 <= share <= 1 for share in shares)

    played(story)
