"""A mixture of grasses by mass: live seed, shares by count, and what to weigh out of each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Values, from_table
from logic.figure import DEFINITION, Figure, Step, figure, step
from logic.units import nominal, quantity, text_of
from logic.works import species
from logic.works.seed import PLS, Seed, count_for, germination_now

_HAIR = 1e-6


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "mixture", key, label, **more)


ROW = (
    Field("species", "Grass", kind="choice", choices=species.choices(), default=species.NOT_SAID),
    _field("share", "Share by weight"),
    _field("purity", "Purity", help="100 % when the label's share already counts pure seed only."),
    _field("germination", "Germination"),
    _field("seeds_per_gram", "Seeds in a gram", required=False, help="Left empty, the table's count."),
)

FIELD = Field(
    "mixture",
    "Mixture, grass by grass",
    kind="rows",
    entry="Grass",
    row=ROW,
    required=False,
    help="For a mixture only: its rows then go before the grass, purity and germination above.",
)


def mixed_seed(rows: Sequence[Values], years: Any) -> Seed:
    """The Seed of a mixture.

    rows: species, share [% of bag weight], purity, germination [%], seeds_per_gram; years: age of the test.
    Raises BadValue when the shares are more than the bag. Source: pure live seed summed over the parts.
    """
    total = sum(nominal(row.share) for row in rows)
    if total > 100 + _HAIR:
        said = text_of(quantity(total, "%"), figures=4)
        raise BadValue("mixture", f"The shares of the mixture add up to {said}, more than the bag.")
    counts = [_count(row, place) for place, row in enumerate(rows, start=1)]
    alive = [row.purity / 100 * germination_now(row.germination, years) / 100 for row in rows]
    parts = [row.share * live for row, live in zip(rows, alive, strict=True)]
    live_share = sum(parts)
    shares = [nominal(row.share) / 100 for row in rows]
    lives = [nominal(live) for live in alive]

    def summed(values: Sequence[float]) -> float:
        return sum(s * a * n for s, a, n in zip(shares, lives, values, strict=True))

    warnings: tuple[str, ...] = ()
    for row in rows:
        warnings += species.quality_warnings(row.species, nominal(row.purity), nominal(row.germination))
    if total < 100 - _HAIR:
        left = text_of(quantity(100 - total, "%"))
        warnings += (f"The shares leave {left} of the bag: that is counted as no seed at all.",)
    return Seed(
        live_share,
        (_live(rows, alive, parts, live_share), *_by_count(rows, counts)),
        sum(s * c.value for s, c in zip(shares, counts, strict=True)),
        sum(row.share / 100 * a * c.value for row, a, c in zip(rows, alive, counts, strict=True)),
        summed([c.low for c in counts]),
        summed([c.high for c in counts]),
        "; ".join(dict.fromkeys(str(c.source) for c in counts)),
        warnings,
    )


def _count(row: Values, place: int) -> species.Count:
    count = count_for(row.species, row.seeds_per_gram)
    if count is None:
        raise BadValue(
            "mixture", f"Row {place} of the mixture: say which grass it is, or how many seeds are in a gram."
        )
    return count


def _title(rows: Sequence[Values], place: int) -> str:
    grass = rows[place].species
    return f"Grass {place + 1}" if grass == species.NOT_SAID else species.name_of(grass)


def _live(rows: Sequence[Values], alive: Sequence[Any], parts: Sequence[Any], live: Any) -> Figure:
    lines: list[Step] = [
        step(
            "{name}: {s} of the bag × {a} alive = {p}",
            name=_title(rows, place),
            s=quantity(row.share, "%"),
            a=quantity(alive[place] * 100, "%"),
            p=quantity(parts[place], "%"),
        )
        for place, row in enumerate(rows)
    ]
    lines.append(step("together {l}", l=quantity(live, "%")))
    return figure("pure_live_seed", "Pure live seed", live, "%", *lines, source=PLS)


def _by_count(rows: Sequence[Values], counts: Sequence[species.Count]) -> list[Figure]:
    seeds = [nominal(row.share) / 100 * count.value for row, count in zip(rows, counts, strict=True)]
    found = []
    for place, row in enumerate(rows):
        share = seeds[place] / sum(seeds) * 100
        line = step(
            "{m} by weight × {n} = {k} of {t} in a gram of the bag, {s} of the seeds",
            m=quantity(row.share, "%"),
            n=quantity(counts[place].value, "1/g"),
            k=seeds[place],
            t=sum(seeds),
            s=quantity(share, "%"),
        )
        found.append(
            figure(
                f"share_by_count_{place + 1}",
                f"{_title(rows, place)}, share of the seeds",
                share,
                "%",
                line,
                source=counts[place].source,
            )
        )
    return found


def parts_to_weigh(rows: Sequence[Values], weigh_out: Any) -> list[Figure]:
    """What to weigh out of each grass [g] to make up `weigh_out` [g] of the mixture on the spot."""
    total = sum(nominal(row.share) for row in rows)
    return [
        figure(
            f"mixture_mass_{place + 1}",
            f"{_title(rows, place)}, to weigh out",
            weigh_out * nominal(row.share) / total,
            "g",
            step(
                "{s} of {t} parts × {w} = {m}",
                s=nominal(row.share),
                t=total,
                w=quantity(weigh_out, "g"),
                m=quantity(weigh_out * nominal(row.share) / total, "g"),
            ),
            source=DEFINITION,
            order=True,
        )
        for place, row in enumerate(rows)
    ]
