"""One sand over another, and sand over gravel: whether they lie as layers, bridge and drain."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from logic.figure import Figure, figure, step
from logic.units import quantity, text_of
from logic.works.grading import Curve
from logic.works.limits import limit, limit_source

#: Key, name, factor in limits.csv, and the D-value of the sand it multiplies.
_RULES = (
    ("gravel_d15_least", "D15 of the gravel at least, to drain", "permeability", 15),
    ("gravel_d15_most", "D15 of the gravel at most, to bridge", "bridging", 85),
    ("filter_d15_most", "D15 of a general filter at most, to hold", "filter_bridging", 85),
    ("filter_d15_spread", "D15 of a general filter at most, by spread", "filter_spread", 15),
)


def gravel_window(sizes: Mapping[int, float]) -> Iterator[Figure]:
    """What D15 [mm] the gravel, or any coarser layer, under a sand must have.

    sizes: D-values of the sand [mm]. Source: factors in limits.csv, each with its own.
    """
    for key, name, factor, percent in _RULES:
        if percent in sizes:
            times, size = limit(factor), sizes[percent]
            line = step(
                f"{{f}} × D{percent} {{d}} = {{g}}",
                f=times,
                d=quantity(size, "mm"),
                g=quantity(times * size, "mm"),
            )
            yield figure(key, name, times * size, "mm", line, source=limit_source(factor))


def compared(sand: Curve, below: Curve) -> Iterator[str]:
    """Sentences when a sand would lie as a layer on the one below, by their middle sizes."""
    over, under = sand.size_at(50), below.size_at(50)
    if over is None or under is None:
        yield "The two sands can't be compared: a middle size can't be read. Add sieves round 50 %."
        return
    most = limit("layer_ratio")
    sizes = f"{text_of(quantity(over, 'mm'))} over {text_of(quantity(under, 'mm'))} in the middle"
    if over > under * most:
        yield (
            f"Coarser sand over finer ({sizes}): they will lie as layers, the dressing dries out first "
            "and roots stop at the join. Match the green."
        )
    elif under > over * most:
        yield (
            f"Finer sand over coarser ({sizes}): they will lie as layers, and water hangs above the join. "
            "Match the green."
        )


def on_gravel(sizes: Mapping[int, float], gravel: Curve) -> Iterator[str]:
    """Sentences when the gravel under a sand lets it through, or is too fine to drain it."""
    d15 = gravel.size_at(15)
    if d15 is None or 85 not in sizes or 15 not in sizes:
        yield "The gravel can't be judged: D15 or D85 can't be read. Add sieves there."
        return
    shown = text_of(quantity(d15, "mm"))
    most, least = limit("bridging") * sizes[85], limit("permeability") * sizes[15]
    if d15 > most:
        yield (
            f"The gravel is too coarse (D15 {shown}, at most {text_of(quantity(most, 'mm'))}): "
            "sand will wash into it. Put a middle layer between."
        )
    if d15 < least:
        yield (
            f"The gravel is too fine (D15 {shown}, at least {text_of(quantity(least, 'mm'))}): "
            "it will not draw water from the sand."
        )
    d90, most_even = gravel.size_at(90), limit("gravel_uniformity")
    if d90 is not None and d90 / d15 > most_even:
        yield (
            f"The gravel is too mixed (D90 ÷ D15 {d90 / d15:.1f}, at most {most_even:g}): "
            "its fine stones fill the gaps between the coarse ones."
        )
