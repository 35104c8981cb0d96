"""Green from a photo: counted here on the phone, with what it can't tell said beside it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import flet as ft

from logic import tables
from logic.errors import BadValue
from logic.survey.cover_photo import Pixel, Window, calibrated
from logic.survey.stored import Held
from mobile_app import survey
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.folded import folded

_OWN = "own"
_NO_PIXELS: tuple[Pixel, ...] = ()


@ft.component
def Panel(app: App, one: Held) -> ft.Control:
    """Take or choose a photo; set the window of colours that counts as green, and count the photo anew."""
    entry_id, values = str(one.entry["id"]), one.entry.get("values") or {}
    own, set_own = ft.use_state(_own(values))
    window, set_window = ft.use_state(str(values.get("window") or "narrow"))
    pixels, set_pixels = ft.use_state(_NO_PIXELS)
    grass, set_grass = ft.use_state(_NO_PIXELS)
    said, say = ft.use_state("")

    def count(found: Sequence[Pixel], chosen: str, held: Window | None) -> None:
        survey.count_green(app, entry_id, found, chosen, held)

    def take(found: list[Pixel]) -> None:
        set_pixels(tuple(found))
        count(found, window, own)

    def pick(key: str) -> None:
        if key == _OWN and own is None:
            say("Set it first: one photo of full grass, then one of bare ground.")
            return
        say("")
        set_window(key)
        if pixels:
            count(pixels, key, own)

    def bare(found: list[Pixel]) -> None:
        try:
            made = calibrated(grass, found)
        except BadValue as bad:
            return say(bad.sentence)
        set_own(made)
        set_window(_OWN)
        say(f"Set: hue {made.low:g} to {made.high:g}°, saturation {100 * made.saturation:.0f} % and up.")
        if pixels:
            count(pixels, _OWN, made)

    def look_at(camera: bool, then: Any) -> Any:
        return lambda _: app.begin(survey.look_at_photo(app, camera, then))

    def setting() -> ft.Control:
        first = look.secondary(
            "1. Photo of full grass", look_at(False, lambda found: set_grass(tuple(found)))
        )
        second = look.secondary("2. Photo of bare ground", look_at(False, bare))
        pairs = (
            *((row["key"], row["name"]) for row in tables.rows("survey_windows")),
            (_OWN, "Set on this sward"),
        )
        return look.stack(
            look.quiet("Which colours count as green. Keep to one window, or the trend means nothing."),
            look.choices(pairs, window, pick),
            first,
            *([second] if grass else []),
            *([look.quiet(said)] if said else []),
            spacing=10,
        )

    ways = ft.Row(
        [
            look.primary("Take a photo", look_at(True, take), ft.Icons.PHOTO_CAMERA_OUTLINED),
            look.secondary("Choose one", look_at(False, take), ft.Icons.PHOTO_LIBRARY_OUTLINED),
        ],
        wrap=True,
        spacing=8,
        run_spacing=8,
    )
    return look.stack(
        ways,
        look.quiet(
            "Counted on this phone and not kept. A trend only: moss is green too, and shadow, low sun and "
            "the camera's own colours shift it."
        ),
        folded(f"window-{entry_id}", "The window of colours", setting),
        spacing=12,
    )


def _own(values: Any) -> Window | None:
    """The window set on this sward, as far as the reading has one."""
    if values.get("window") != _OWN:
        return None
    try:
        return Window(*(float(values[key]) for key in ("hue_low", "hue_high", "least_saturation")))
    except (KeyError, TypeError, ValueError):
        return None
