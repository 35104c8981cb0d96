"""What the user does about what was agreed: notes it, takes it out, has it signed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from logic.records.types import utc_now
from mobile_app.app import App


def customer(app: App) -> str:
    """The name of the client whose visit is in hand, "" when there is none."""
    client = app.client_of(app.sward_of(app.visit_in_hand()))
    return client.name if client else ""


def note(app: App, words: str, who: str) -> bool:
    """Note what was agreed with the time; False when nothing was written."""
    if not words.strip():
        return False
    visit = app.visit_in_hand()
    told = {"words": words.strip(), "name": who.strip(), "at": utc_now().isoformat()}
    app.edit_undoable(replace(visit, agreed=(*visit.agreed, told)), "noted what was agreed")
    return True


def take_out(app: App, number: int) -> None:
    """Take one of the things agreed out, with a way back."""
    visit = app.visit_in_hand()
    left = (*visit.agreed[:number], *visit.agreed[number + 1 :])
    app.edit_undoable(replace(visit, agreed=left), "took out what was agreed")


def sign(app: App, strokes: Sequence[Sequence[tuple[float, float]]], who: str) -> None:
    """Keep a signature with name and time."""
    drawn = [[list(point) for point in stroke] for stroke in strokes]
    signature = {"name": who.strip(), "at": utc_now().isoformat(), "strokes": drawn}
    app.edit_undoable(replace(app.visit_in_hand(), signature=signature), "signed")


def unsign(app: App) -> None:
    """Take the signature out, with a way back."""
    app.edit_undoable(replace(app.visit_in_hand(), signature={}), "took the signature out")
