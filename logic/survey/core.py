"""A core or slice out of the turf: thatch, layers, roots, and what eye and nose say, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import DEFINITION, Figure, figure, step
from logic.survey.classes import label
from logic.survey.kind import Finding, Kind, Label, Layer, Spot
from logic.survey.several import plain, readings_needed, several
from logic.units import nominal, quantity


def _field(key: str, label_: str, **more: Any) -> Field:
    return from_table("readings", "core", key, label_, **more)


def _words(group: str) -> tuple[tuple[str, str], ...]:
    return tuple((r["key"], r["word"]) for r in tables.rows("survey_words") if r["group"] == group)


def _choice(key: str, label_: str, help_: str = "") -> Field:
    return Field(key, label_, kind="choice", choices=_words(key), required=False, help=help_)


FORM = Form(
    (
        _field(
            "thatch",
            "Thatch depth in each core",
            kind="list",
            entry="Core",
            help="From under the green leaf to the soil.",
        ),
        _field("within", "Wanted to within, either way"),
        _choice("kind_of_thatch", "What the layer is", "Mat with sand through it is not thatch."),
        _field("compressed", "Thatch of the first core, squeezed", required=False),
        Field(
            "layers",
            "Layers",
            kind="rows",
            entry="Layer",
            row=(
                _field("layer_from", "From"),
                _field("layer_to", "To"),
                _choice("layer", "What it is"),
                Field("remark", "Remark", kind="text", required=False),
            ),
            required=False,
            help="Depths below the surface, from the top down.",
        ),
        _field("roots_most", "Depth most white roots reach", required=False, help="Where four in five end."),
        _field("roots_deepest", "Deepest root", required=False),
        _choice("colour", "Colour of the soil"),
        _choice("smell", "Smell"),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Thatch depth [mm] with its class, springiness, roots, and the layers for drawing. Raises BadValue."""
    thatch = several("thatch_depth", "Thatch depth", v.thatch, "mm")
    more = readings_needed("cores_needed", v.thatch, "mm", nominal(v.within)) if len(v.thatch) > 1 else ()
    labels = []
    if v.kind_of_thatch != "mat":
        labels.append(label("thatch_depth", "thatch", thatch[0].nominal, spot.surface))
    roots, root_labels = _roots(v, spot)
    return Finding(
        (*thatch, *more, *_spring(v), *roots),
        (*labels, *root_labels),
        tuple(_warnings(v, labels)),
        drawing=_layers(v, thatch[0].nominal),
    )


def _spring(v: Values) -> tuple[Figure, ...]:
    if not v.has("compressed"):
        return ()
    first, squeezed = v.thatch[0], v.compressed
    if nominal(first) <= 0 or nominal(squeezed) > nominal(first):
        raise BadValue("compressed", "Squeezed, the thatch can't be deeper than it was.")
    ratio = squeezed / first * 100
    line = step(
        "{c} squeezed ÷ {u} = {r}",
        c=quantity(squeezed, "mm"),
        u=quantity(first, "mm"),
        r=quantity(ratio, "%"),
    )
    return (figure("compression_ratio", "Thatch left when squeezed (low is spongy)", ratio, "%", line),)


def _roots(v: Values, spot: Spot) -> tuple[tuple[Figure, ...], tuple[Label, ...]]:
    found: list[Figure] = []
    labels: tuple[Label, ...] = ()
    if v.has("roots_most"):
        line = step("four in five white roots end by {d}", d=quantity(v.roots_most, "mm"))
        found.append(
            figure("root_depth", "Root depth", v.roots_most, "mm", line, source=DEFINITION, headline=True)
        )
        labels = (label("root_depth", "roots", nominal(v.roots_most), spot.surface),)
    if v.has("roots_deepest"):
        line = step("the deepest root ends at {d}", d=quantity(v.roots_deepest, "mm"))
        found.append(figure("root_deepest", "Deepest root", v.roots_deepest, "mm", line))
    if v.has("roots_most") and v.has("roots_deepest") and nominal(v.roots_most) > nominal(v.roots_deepest):
        raise BadValue("roots_deepest", "The deepest root can't end above the others.")
    return tuple(found), labels


def _layers(v: Values, thatch: float) -> tuple[Layer, ...]:
    if not v.has("layers"):
        return (Layer(0.0, thatch, "thatch"),) if thatch > 0 else ()
    names = dict(_words("layer"))
    drawn = []
    bottom = 0.0
    for row in v.layers:
        top, end = plain((row.layer_from, row.layer_to))
        if end <= top:
            raise BadValue("layers", "A layer must end below where it begins.")
        if top < bottom - 1e-9:
            raise BadValue("layers", "These layers overlap. Give them from the top down.")
        bottom = end
        drawn.append(Layer(top, end, row.remark or names.get(row.layer, "layer")))
    return tuple(drawn)


def _warnings(v: Values, labels: list[Label]) -> Iterator[str]:
    if any(one.word in ("high", "severe") for one in labels):
        yield "Deep thatch holds water, gives under the mower and sheds light watering: see the programme."
    for group in ("kind_of_thatch", "colour", "smell"):
        if v.has(group):
            said = tables.row("survey_words", group=group, key=v[group])["meaning"]
            if said:
                yield said
    rows = v.layers or ()
    if any(row.layer == "black" for row in rows):
        yield tables.row("survey_words", group="layer", key="black")["meaning"]


KIND = Kind(
    key="core",
    name="Cores: thatch, layers, roots",
    form=FORM,
    read=read,
    help="Cut a wedge or core into the soil. Find the brown peaty layer between green leaf and soil and "
    "measure it unsqueezed; lay the slice down and look at it from top to bottom.",
    how_many="5 or more: thatch is uneven, and studies often took too few for its depth.",
    tells_not="How much organic matter there is by weight, or the mass of roots: cores show depth well, "
    "mass badly.",
    alike=("kind_of_thatch",),
    group="soil",
    order=20,
)
