"""Contrast of the look, by the formulas of WCAG 2.2 (glossary): relative luminance, contrast ratio."""

from __future__ import annotations

import pytest

from mobile_app.parts.look import BODY, DARK, LABEL, LIGHT, TOUCH

THEMES = {"light": LIGHT, "dark": DARK}
GROUNDS = ("surface", "surface_container", "surface_container_high")


def luminance(colour: str) -> float:
    """Relative luminance of "#RRGGBB", 0 for black to 1 for white."""

    def linear(pair: str) -> float:
        share = int(pair, 16) / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    red, green, blue = (linear(colour[at : at + 2]) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_published_ratios() -> None:
    """Black on white is 21:1; #777777 on white is 4.48:1, just short of 4.5 (W3C, Understanding SC 1.4.3)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)
    assert contrast("#FFFFFF", "#FFFFFF") == 1


TEXT = [
    *(
        (ink, ground)
        for ink in ("on_surface", "on_surface_variant", "error", "tertiary")
        for ground in GROUNDS
    ),
    *(("primary", ground) for ground in GROUNDS),
    ("on_primary", "primary"),
    ("on_primary_container", "primary_container"),
    ("on_secondary", "secondary"),
    ("on_tertiary", "tertiary"),
    ("on_tertiary_container", "tertiary_container"),
    ("on_error", "error"),
    ("primary", "tertiary_container"),  # the button in the notice at the top
]


@pytest.mark.parametrize("name", THEMES)
@pytest.mark.parametrize(("ink", "ground"), TEXT)
def test_text_stands_out_seven_to_one(name: str, ink: str, ground: str) -> None:
    colours = THEMES[name]
    assert contrast(colours[ink], colours[ground]) >= 7, (ink, ground)


@pytest.mark.parametrize("name", THEMES)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("edge", ["outline", "primary"])
def test_edges_of_what_is_tapped_stand_out_three_to_one(name: str, edge: str, ground: str) -> None:
    """WCAG 2.2, success criterion 1.4.11: boundaries of controls 3:1 against what is beside them."""
    assert contrast(THEMES[name][edge], THEMES[name][ground]) >= 3


def test_both_themes_name_the_same_colours() -> None:
    assert set(LIGHT) == set(DARK)


def test_sizes_are_those_of_a_hand_in_a_garden() -> None:
    assert TOUCH >= 48
    assert min(BODY, LABEL) >= 16
