"""Green cover and colour from the pixels of a photo: hue windows and the dark green colour index.

It works on (red, green, blue) pixels and knows nothing of files or cameras. It can't tell moss from grass.
"""

from __future__ import annotations

import colorsys
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from logic import tables
from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import Figure, Source, figure, step
from logic.survey.classes import limit
from logic.survey.kind import Finding, Kind, Spot
from logic.units import nominal, quantity

Pixel = tuple[int, int, int]

SHARE = Source(
    "Digital image analysis after Richardson and others, 2001: green pixels ÷ all pixels", "second-hand"
)
DGCI = Source(
    "Karcher and Richardson, Crop Science 43:943-951, 2003; formula by public quotations of the paper"
)


@dataclass(frozen=True)
class Window:
    """Which pixels count as green: hue from `low` to `high` [degrees], saturation at least `saturation` (0 to
    1)."""

    low: float
    high: float
    saturation: float

    def holds(self, hue: float, saturation: float) -> bool:
        """True when a colour lies inside, ends included."""
        return self.low <= hue <= self.high and saturation >= self.saturation


def window_named(key: str) -> Window:
    """The published window of that name (rows of survey_windows.csv). Raises LookupError."""
    row = tables.row("survey_windows", key=key)
    return Window(float(row["low"]), float(row["high"]), float(row["saturation"]))


def hsb(pixel: Pixel) -> tuple[float, float, float]:
    """Hue [degrees], saturation and brightness (0 to 1) of a pixel of 0 to 255. Source: definition of HSB."""
    hue, saturation, brightness = colorsys.rgb_to_hsv(*(part / 255 for part in pixel))
    return 360 * hue, saturation, brightness


def dgci(hue: float, saturation: float, brightness: float) -> float:
    """Dark green colour index, 0 to 1: ((H − 60) ÷ 60 + (1 − S) + (1 − B)) ÷ 3. Means something for H 60 to
    120°.

    It is linear, so the index of mean H, S and B is the mean index. Source: DGCI.
    """
    return ((hue - 60) / 60 + (1 - saturation) + (1 - brightness)) / 3


def counted(pixels: Iterable[Pixel], window: Window) -> dict[str, str]:
    """What a photo's pixels come to, as text for this reading's form (pixels, green, window, mean colour).

    The mean colour is that of the green pixels whose hue the index is meant for (60 to 120°).
    """
    total = green = measured = 0
    sums = [0.0, 0.0, 0.0]
    low, high = limit("dgci_least"), limit("dgci_most")
    for pixel in pixels:
        total += 1
        colour = hsb(pixel)
        if not window.holds(colour[0], colour[1]):
            continue
        green += 1
        if low <= colour[0] <= high:
            measured += 1
            sums = [a + b for a, b in zip(sums, colour, strict=True)]
    given = {
        "pixels": str(total),
        "green": str(green),
        "hue_low": f"{window.low:g}",
        "hue_high": f"{window.high:g}",
        "least_saturation": f"{window.saturation:g}",
    }
    if measured:
        means = (f"{part / measured:.6f}" for part in sums)
        given |= dict(zip(("hue", "saturation", "brightness"), means, strict=True))
    return given


def calibrated(grass: Iterable[Pixel], bare: Iterable[Pixel]) -> Window:
    """A window that holds a photo of full grass and shuts out one of bare ground, as well as hue alone can.

    It takes the 2nd to 98th percentile of the grass's hue, and pulls an end in to halfway where the bare
    ground's middle lies inside it; saturation from the grass's 2nd percentile. Raises BadValue when the two
    look alike.
    Source: our own (common practice is to set the window on known patches; no source).
    """
    grass_colours, bare_colours = [hsb(p) for p in grass], [hsb(p) for p in bare]
    if not grass_colours or not bare_colours:
        raise BadValue("window", "Take one photo of full grass and one of bare ground.")
    low, high = (_percentile([c[0] for c in grass_colours], q) for q in (0.02, 0.98))
    least = math.floor(1000 * _percentile([c[1] for c in grass_colours], 0.02)) / 1000
    middle_grass = _percentile([c[0] for c in grass_colours], 0.5)
    middle_bare = _percentile([c[0] for c in bare_colours], 0.5)
    if low <= middle_bare <= middle_grass:
        low = (middle_bare + middle_grass) / 2
    elif middle_grass < middle_bare <= high:
        high = (middle_bare + middle_grass) / 2
    window = Window(math.floor(10 * low) / 10, math.ceil(10 * high) / 10, least)
    wrong = sum(window.holds(c[0], c[1]) for c in bare_colours) / len(bare_colours)
    right = sum(window.holds(c[0], c[1]) for c in grass_colours) / len(grass_colours)
    if right - wrong < 0.5:
        raise BadValue("window", "The grass and the bare ground look too much alike in this light.")
    return window


def _percentile(values: list[float], share: float) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("readings", "cover_photo", key, label, **more)


FORM = Form(
    (
        _field("pixels", "Pixels looked at", whole=True, help="Counted from the photo."),
        _field("green", "Green pixels", whole=True),
        _field("hue", "Mean hue of the green", required=False),
        _field("saturation", "Mean saturation", required=False),
        _field("brightness", "Mean brightness", required=False),
        Field(
            "window",
            "Window",
            kind="choice",
            choices=(
                *((r["key"], r["name"]) for r in tables.rows("survey_windows")),
                ("own", "Set on this sward"),
            ),
            default="narrow",
        ),
        _field("hue_low", "Window: hue from", required=False),
        _field("hue_high", "Window: hue to", required=False),
        _field("least_saturation", "Window: least saturation", required=False),
        Field("camera", "Phone and light", kind="text", required=False, help="Use the same each time."),
    )
)


def read(v: Values, spot: Spot) -> Finding:
    """Green share of the photo [%] and the colour index of its green. Raises BadValue."""
    if nominal(v.green) > nominal(v.pixels):
        raise BadValue("green", "There can't be more green pixels than pixels.")
    share = 100 * v.green / v.pixels
    line = step(
        "{g} green of {n} pixels = {p}",
        g=quantity(v.green, ""),
        n=quantity(v.pixels, ""),
        p=quantity(share, "%"),
    )
    found = [figure("green_cover", "Green in the photo", share, "%", line, source=SHARE, headline=True)]
    found += _colour(v)
    return Finding(tuple(found), warnings=tuple(_warnings(v)))


def _colour(v: Values) -> tuple[Figure, ...]:
    if not (v.has("hue") and v.has("saturation") and v.has("brightness")):
        return ()
    if not limit("dgci_least") <= nominal(v.hue) <= limit("dgci_most"):
        return ()
    index = dgci(v.hue, v.saturation, v.brightness)
    line = step(
        "(({h} − 60) ÷ 60 + (1 − {s}) + (1 − {b})) ÷ 3 = {i}",
        h=quantity(v.hue, ""),
        s=quantity(v.saturation, ""),
        b=quantity(v.brightness, ""),
        i=quantity(index, ""),
    )
    return (figure("dgci", "Dark green colour index", index, "", line, source=DGCI),)


def _warnings(v: Values) -> Iterator[str]:
    yield "Moss is green too: this can't tell it from grass. Count points for that."
    yield "A trend only: low sun, shadow and the camera's own colour setting shift the hue."
    if v.window == "wide":
        yield "The wide window takes dry sand for green: not after a dressing."


KIND = Kind(
    key="cover_photo",
    name="Green, from a photo",
    form=FORM,
    read=read,
    help="Straight down, always the same height and phone, frame shaded, a grey card in the corner. Never "
    "within days of a dressing.",
    how_many="4 or more places, the same ones each visit.",
    tells_not="Moss from grass, or health: browning turf still counts as green, and dark bent may fall "
    "outside.",
    alike=("hue_low", "hue_high", "least_saturation", "camera"),
    group="grass",
    order=32,
)
