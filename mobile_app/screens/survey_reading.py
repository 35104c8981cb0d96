"""One reading: how it is taken, its form, what it says, where it was taken, and a note."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import flet as ft

from logic.field import Field, is_empty
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.survey import stored
from logic.survey.kind import Kind, Layer, Line, Taken
from logic.survey.kinds import kinds
from logic.survey.stored import Held
from logic.survey.wanted import still_wanted
from mobile_app import survey
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.figures import FigureCard
from mobile_app.parts.folded import folded
from mobile_app.parts.form import form_view
from mobile_app.parts.ground_map import GroundMap
from mobile_app.parts.kept import Do, kept
from mobile_app.parts.plot import Plot
from mobile_app.parts.profile import profile
from mobile_app.screens import photos, survey_photo, survey_points
from mobile_app.screens.survey import name_of, pins, stretches

_COUNTED = "cover"
_PHOTO = "cover_photo"


def body(app: App, visit: Visit, entry_id: str) -> list[ft.Control]:
    """The page of one reading."""
    stood = app.standing(visit)
    held = survey.readings(app, visit)
    one = next((one for one in held if one.entry["id"] == entry_id), None)
    if one is None:
        back = look.secondary("All readings", lambda _: app.go(f"/visit/{visit.id}/{survey.LIST}"))
        return [look.remark("This reading is not in the book any more."), back]
    kind = kinds().get(str(one.entry.get("kind")))
    rows: list[ft.Control] = [look.title(name_of(one))]
    if kind is None:
        return [*rows, look.remark("This reading was taken with a newer version of Swardwright.")]
    empty = _is_empty(one.entry)
    rows.append(folded(f"how-{entry_id}", "How to take it", lambda: _how(kind), empty))
    rows.append(_form(app, visit, one, kind, stood))
    if one.taken:
        rows.append(look.card(*_result(app, one.taken), spacing=8, key="result"))
    rows.append(_where(app, visit, held, one, stood))
    rows.append(
        ft.Row(
            [text_box("Note", str(one.entry.get("note") or ""), Do(survey.note, app, entry_id))],
            key="note",
        )
    )
    rows.append(look.stack(photos.strip(app, visit, reading=entry_id)))
    rows.append(
        look.primary("All readings", lambda _: app.go(f"/visit/{visit.id}/{survey.LIST}"), ft.Icons.CHECK)
    )
    rows.append(
        ft.Row(
            [
                look.secondary("Another of this kind", lambda _: survey.begin(app, kind.key), ft.Icons.ADD),
                look.plain("Take out", lambda _: survey.take_out(app, entry_id, kind.name)),
            ],
            wrap=True,
            spacing=8,
            run_spacing=8,
        )
    )
    return rows


def _is_empty(entry: Mapping[str, Any]) -> bool:
    return all(is_empty(value) for key, value in (entry.get("values") or {}).items() if key != "way")


def _how(kind: Kind) -> ft.Control:
    """How to take it, how many, and what it doesn't tell."""
    said = (("How", kind.help), ("How many", kind.how_many), ("What it doesn't tell", kind.tells_not))
    return look.stack(
        *(
            look.stack(look.words(name, weight=ft.FontWeight.BOLD), look.quiet(text), spacing=0)
            for name, text in said
        ),
        spacing=10,
    )


# --- the form -------------------------------------------------------------------------------------------


def _form(app: App, visit: Visit, one: Held, kind: Kind, stood: Standing) -> ft.Control:
    entry_id = str(one.entry["id"])

    def draw(only: Any = None) -> ft.Control:
        return form_view(
            kind.form,
            stored.given(one.entry),
            one.reading,
            app.system,
            Do(survey.put, app, entry_id),
            f"{visit.id}-{entry_id}",
            discard=Do(survey.discard, app, entry_id),
            pace=stood.pace,
            only=only,
        )

    if kind.key == _COUNTED:
        counts = [item.key for item in kind.form.fields if item.key != "within"]
        typed = folded(f"typed-{entry_id}", "Type the counts instead", lambda: draw(counts))
        return look.card(survey_points.start(app, one), draw(["within"]), typed, spacing=14, key="form")
    if kind.key == _PHOTO:
        rest = folded(f"typed-{entry_id}", "Numbers counted elsewhere", draw)
        panel = look.keyed(f"photo-{entry_id}", survey_photo.Panel, app, one)
        return look.card(panel, draw(["camera"]), rest, spacing=14, key="form")
    return look.card(*_parts(app, kind, one, draw), spacing=14, key="form")


def _parts(app: App, kind: Kind, one: Held, draw: Callable[[Any], ft.Control]) -> list[ft.Control]:
    """What must be said first; the rest folded away behind its names."""
    entry_id, values = str(one.entry["id"]), stored.given(one.entry)
    way = kind.form.way(values)
    asked = kind.form.asked(way)
    first = [f.key for f in asked if f.required and not f.default] or [f.key for f in asked]
    rest = [f for f in asked if f.key not in first]
    rows: list[ft.Control] = []
    if kind.form.ways:
        pairs = tuple((w.key, w.label) for w in kind.form.ways)
        rows.append(look.choices(pairs, way, lambda key: survey.put(app, entry_id, "way", key)))
    rows.append(draw(first))
    if rest:
        filled = sum(not is_empty(values.get(f.key)) for f in rest)
        trouble = any(f.key in one.reading.problems or f.key in one.reading.warnings for f in rest)
        rows.append(look.keyed(f"more-{entry_id}-{way}", _More, rest, draw, filled, trouble))
    return rows


@ft.component
def _More(rest: Sequence[Field], draw: Callable[[Any], ft.Control], filled: int, trouble: bool) -> ft.Control:
    """What may be said besides: folded away behind the names of it. It can't hide something that is wrong."""
    is_open, set_open = ft.use_state(trouble)
    if is_open or trouble:
        return draw([item.key for item in rest])
    said = f"{len(rest)} more, {filled} filled in" if filled else f"{len(rest)} more"
    names = ", ".join(item.name() for item in rest)
    button = look.secondary(said, lambda _: set_open(True), ft.Icons.EXPAND_MORE)
    return look.stack(button, look.quiet(f"{names[:1].upper()}{names[1:]}."), spacing=6)


# --- what it says ---------------------------------------------------------------------------------------


def _result(app: App, taken: Taken) -> list[ft.Control]:
    """Headline figures with their class second, what is still wanted, what to mind, the drawing, the rest."""
    large = [f for f in taken.figures if f.headline] or list(taken.figures[:1])
    rows: list[ft.Control] = []
    for figure in large:
        card = kept(figure.key, FigureCard, figure, app.system, app.settings.confidence, large=True)
        rows.append(look.stack(card, *_second(app, taken, figure.key), spacing=0))
    more = still_wanted(taken)
    if more:
        rows += [look.rule(), kept(more.key, FigureCard, more, app.system, app.settings.confidence)]
    rows += [look.remark(said) for said in (*taken.field_warnings.values(), *taken.finding.warnings)]
    rows += _drawing(app, taken)
    rest = [f for f in taken.figures if f not in large]
    if rest:
        rows.append(folded(f"rest-{taken.kind.key}", "All figures", lambda: _rest(app, rest)))
    return rows


def _second(app: App, taken: Taken, key: str) -> list[ft.Control]:
    """Below a figure: the range it is known to lie in, and its class with whose class it is."""
    lines: list[ft.Control] = []
    if taken.has(f"{key}_low"):
        low, high = (taken.figure(f"{key}_{end}").text(app.system, 2) for end in ("low", "high"))
        lines.append(look.quiet(f"{low} to {high}, 95 times in 100"))
    for label in taken.finding.labels:
        if label.figure == key:
            lines.append(look.quiet(f"Class: {label.word} – {label.source}"))
    return lines


def _rest(app: App, figures: list[Any]) -> ft.Control:
    rows: list[ft.Control] = []
    for figure in figures:
        rows += [
            kept(figure.key, FigureCard, figure, app.system, app.settings.confidence),
            look.rule(),
        ]
    return look.stack(*rows[:-1], spacing=4)


def _drawing(app: App, taken: Taken) -> list[ft.Control]:
    layers = [mark for mark in taken.finding.drawing if isinstance(mark, Layer)]
    rows: list[ft.Control] = [profile(layers, app.system)] if layers else []
    for on in ("depth", "sky"):
        lines = [m for m in taken.finding.drawing if isinstance(m, Line) and m.on == on]
        if lines:
            rows.append(look.keyed(f"plot-{on}", Plot, lines, on))
    return rows


# --- where ------------------------------------------------------------------------------------------------


def _where(app: App, visit: Visit, held: tuple[Held, ...], one: Held, stood: Standing) -> ft.Control:
    if stood.outline is None:
        return look.quiet("Measure the green, and readings can be placed on its sketch.")
    entry_id = str(one.entry["id"])
    placed = one.entry.get("x") is not None
    said = "Tap again to move it." if placed else "Tap the sketch where you took it."
    lines: list[ft.Control] = [
        look.title("Where", look.BODY),
        look.quiet(said),
        kept(
            "where",
            GroundMap,
            stood.outline,
            app.system,
            pins(held, chosen=entry_id),
            stretches([one]),
            Do(survey.place, app, entry_id),
        ),
    ]
    if placed:
        lines.append(
            ft.Row([look.plain("Take it off the sketch", lambda _: survey.place(app, entry_id, None, None))])
        )
    return look.card(*lines, padding=ft.Padding.all(12), key="where")
