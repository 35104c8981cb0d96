"""Whole jobs: the summary, a job file given out and brought in, the demo."""

from __future__ import annotations

import io
import json
import unicodedata
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pypdf import PdfReader

from logic.records import jobfile
from logic.records.reckon import reckon
from logic.records.types import Client, Settings, Sward, Visit
from logic.records.visits import draft, with_reading, with_work, with_work_value
from mobile_app.jobs import bring_in, file_name, give_out, load_demo, make_document
from tests.mobile_app.stand import Stand, played, stand


def measured(hand: Stand) -> Visit:
    """A visit with a measured rectangle and some sand, as typed."""
    visit = with_reading(with_reading(hand.open_visit(), "length", "12 m"), "width", "5 m")
    visit = with_work_value(with_work(visit, "topdressing"), 0, "depth", "2 mm")
    hand.app.edit(visit)
    return hand.app.visit_in_hand()


def picked(hand: Stand, job: Any) -> None:
    hand.device.picks = ("job.json", job if isinstance(job, bytes) else json.dumps(job).encode())


JOB: dict[str, Any] = {
    "format": jobfile.FORMAT,
    "started": "2026-05-01T12:00:00+00:00",
    "client": {"name": "Ada Fen"},
    "sward": {"name": "Back green"},
    "pace": {"course": "20 m", "counts": [25, 25.5, 24.5]},
    "outline": {"method": "circle", "diameter": "10 paces"},
    "works": [{"operation": "overseeding", "rate": "8 g/m^2"}],
}


# --- names of files -------------------------------------------------------------------------------


@given(st.lists(st.text(max_size=120), max_size=3), st.sampled_from(["pdf", "json"]))
@example(["../../etc/passwd"], "pdf")
@example(["C:\\greens\\7"], "json")
@example([".."], "pdf")
@example(["\x00", "\u202egnp"], "pdf")
@example(["\U00010348" * 120], "pdf")
@example(["\ufdfa" * 100], "pdf")
@example(["\ud800"], "pdf")
def test_a_file_name_is_never_a_path_never_hidden_never_too_long(parts: list[str], ending: str) -> None:
    name = file_name(*parts, ending=ending)
    stem, dot, last = name.rpartition(".")
    assert (dot, last) == (".", ending)
    assert stem
    assert all(letter == "-" or letter == "_" or unicodedata.category(letter)[0] in "LN" for letter in stem)
    assert stem[0] not in "-_"
    assert len(name.encode("utf-8")) <= 255


def test_a_file_name_says_what_it_is() -> None:
    assert (
        file_name("Mrs Ó'Hara: green 7/8", "2026-05-01", ending="pdf")
        == "Mrs-Ó-Hara-green-7-8-2026-05-01.pdf"
    )
    assert file_name("¿?", ending="pdf") == "swardwright.pdf"


# --- the summary ----------------------------------------------------------------------------------


def test_the_summary_is_offered_with_the_numbers_of_the_screen() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        hand.app.edit_settings(Settings(firm="Fern & Sons"))
        await make_document(hand.app, "summary")
        ((name, mime, data, title),) = hand.device.offered
        assert name == f"Back-green-{visit.started.astimezone():%Y-%m-%d}.pdf"
        assert (mime, title) == ("application/pdf", "Summary for Back green")
        words = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
        stood = hand.app.standing(visit)
        assert stood.area is not None
        assert stood.area.text_with_margin() in words
        assert stood.worked[0].figure("sand_volume").text() in words
        assert "Fern & Sons" in words
        assert hand.app.state.busy == ""
        assert draft(hand.stored())["width"] == "5 m"  # saved before it was printed

    played(story)


def test_a_visit_that_has_not_been_measured_has_no_paper() -> None:
    async def story(hand: Stand) -> None:
        hand.open_visit()
        await make_document(hand.app, "summary")
        assert hand.device.offered == []
        assert hand.said == "Measure the green first; then there is something to put on paper."

    played(story)


# --- job files ------------------------------------------------------------------------------------


def test_a_job_given_out_reckons_to_the_figures_on_the_screen() -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        hand.app.edit_settings(replace(hand.app.settings, confidence=0.95))
        give_out(hand.app)
        ((name, mime, data, _),) = hand.device.offered
        assert (name, mime) == ("Back-green-job.json", "application/json")
        job = jobfile.loads(data)
        assert job["confidence"] == 0.95
        reckoned = reckon(job)
        stood = hand.app.standing(hand.app.visit_in_hand())
        assert stood.area is not None
        assert reckoned.outline.area.as_json() == stood.area.as_json()
        assert [f.as_json() for w in reckoned.works for f in w.figures] == [
            f.as_json() for w in stood.worked for f in w.figures
        ]

    played(story)


def test_a_job_given_out_comes_in_on_another_phone() -> None:
    async def story(hand: Stand) -> None:
        visit = measured(hand)
        give_out(hand.app)
        other = stand()
        other.device.picks = ("x.json", hand.device.offered[0][2])
        await bring_in(other.app)
        came = other.app.visit_in_hand()
        assert other.app.state.place == f"/visit/{came.id}/measure"
        assert draft(came) == draft(visit)
        assert came.works == visit.works
        assert came.started == visit.started.replace(microsecond=0)
        sward = other.app.sward_of(came)
        client = other.app.client_of(sward)
        assert (sward.name, client.name if client else "") == ("Back green", "Ada Fen")

    played(story)


@pytest.mark.parametrize(
    "broken",
    [
        b"",
        b"%PDF-1.4",
        b"[" * 100_000,
        {"format": "swardwright-job/2"},
        {**JOB, "outline": {"method": "by satellite"}},
        {**JOB, "works": [{"operation": "by robot"}]},
        {**JOB, "pace": {"course": "20 m", "counts": ["x"]}},
        {**JOB, "started": "yesterday"},
        {**JOB, "sward": {"name": ["a"]}},
        {**JOB, "sward": {}},
    ],
)
def test_a_broken_job_file_changes_nothing_and_says_so(broken: Any) -> None:
    async def story(hand: Stand) -> None:
        measured(hand)
        hand.app.save_now()
        before = (
            hand.folder.contents(),
            hand.app.book.export_all(),
            hand.app.state.place,
            hand.app.state.visit,
        )
        picked(hand, broken)
        await bring_in(hand.app)
        assert hand.said
        assert hand.app.state.notice is not None
        assert hand.app.state.notice.serious
        assert hand.folder.contents() == before[0]
        assert (hand.app.state.place, hand.app.state.visit) == before[2:]

    played(story)


def test_choosing_no_file_does_nothing() -> None:
    async def story(hand: Stand) -> None:
        drawn = len(hand.drawn)
        await bring_in(hand.app)
        assert len(hand.drawn) == drawn

    played(story)


def test_with_no_room_left_a_job_is_not_brought_in_by_half() -> None:
    async def story(hand: Stand) -> None:
        picked(hand, JOB)
        hand.fill_up()
        await bring_in(hand.app)
        assert "no room left" in hand.said
        assert hand.app.book.all(Sward) == []
        assert hand.app.state.place == "/"

    played(story)


@pytest.mark.parametrize(
    ("client", "kept"), [({}, 0), ({"email": "ada@example.com"}, 1), ({"name": "Ada"}, 1)]
)
def test_a_green_without_a_client_hangs_on_none(client: dict[str, str], kept: int) -> None:
    async def story(hand: Stand) -> None:
        picked(hand, {**JOB, "client": client})
        await bring_in(hand.app)
        (sward,) = hand.app.book.all(Sward)
        assert len(hand.app.book.all(Client)) == kept
        assert bool(sward.client_id) == bool(kept)
        hand.app.delete(sward)
        hand.app.book.restore(sward.id)  # a client that is not there would be in the way
        assert hand.app.book.has(Sward, sward.id)

    played(story)


def test_what_was_brought_in_is_taken_back_whole() -> None:
    async def story(hand: Stand) -> None:
        picked(hand, JOB)
        await bring_in(hand.app)
        hand.app.undo()
        assert hand.said == "Taken back: bring in Back green."
        assert hand.app.book.counts().get("swards", 0) == 0
        assert hand.app.state.place == "/"

    played(story)


# --- the demo -------------------------------------------------------------------------------------


def test_the_demo_is_measured_worked_out_and_taken_back_in_one_step() -> None:
    async def story(hand: Stand) -> None:
        load_demo(hand.app)
        visits = hand.app.book.all(Visit)
        assert len(visits) >= 2
        assert hand.app.settings.firm
        for visit in visits:
            stood = hand.app.standing(visit)
            assert stood.area is not None
            assert 30 <= stood.area.nominal <= 300  # m²: the greens that this is for
            assert len(stood.worked) == len(visit.works)
            client = hand.app.client_of(hand.app.sward_of(visit))
            assert client is not None
            assert client.email.endswith("example.com")
        hand.app.undo()
        assert hand.app.book.all(Visit) == []

    played(story)


def test_the_demo_leaves_a_contractor_s_own_settings_alone() -> None:
    async def story(hand: Stand) -> None:
        hand.app.edit_settings(Settings(firm="My own"))
        load_demo(hand.app)
        assert hand.app.settings.firm == "My own"

    played(story)
