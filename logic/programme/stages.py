"""The weeks after the work as dated lines: water, first cut, steps down, feed, keep-off, and visits due."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from logic import tables
from logic.errors import BadValue
from logic.figure import Source
from logic.programme.germination import thermal_days
from logic.units import quantity, text_of
from logic.works.mowing import steps_down, third

#: What a line is about.
WHATS = ("water", "mow", "feed", "keep off", "visit")


@dataclass(frozen=True)
class Line:
    """One line of the aftercare. first, last: the days it holds; every: days between, None for all of the
    time; what: one of WHATS, of which a visit is the contractor's and all else the customer's; name: a few
    words."""

    key: str
    what: str
    first: date
    last: date
    sentence: str
    source: Source
    every: int | None = None
    name: str = ""

    @property
    def for_contractor(self) -> bool:
        """True for what the contractor does."""
        return self.what == "visit"


@dataclass(frozen=True)
class Cut:
    """A cut of the step-down: on or after `day`, to `height` [mm]."""

    day: date
    height: float


@dataclass(frozen=True)
class Sown:
    """What was sown, and how warm the soil is [°C] if known: both set when it shows and when it is first
    cut."""

    species: tuple[str, ...] = ()
    soil: float | None = None


@dataclass(frozen=True)
class Stages:
    """The weeks after: lines in order of their first day, cuts, the days expected, and what is normal or
    not."""

    done: date
    up: date
    mown: date
    lines: tuple[Line, ...]
    cuts: tuple[Cut, ...]
    normal: tuple[str, ...]
    ring: tuple[str, ...]

    @property
    def keep_off_until(self) -> date | None:
        """The day until which the sward is kept off; None when there is no such line."""
        ends = [line.last for line in self.lines if line.what == "keep off"]
        return max(ends) if ends else None

    @property
    def visits(self) -> tuple[Line, ...]:
        """The follow-up visits."""
        return tuple(line for line in self.lines if line.for_contractor)


def limit(key: str) -> float:
    """The limit named `key` of aftercare_limits.csv. Raises LookupError."""
    return float(tables.row("aftercare_limits", key=key)["value"])


def days_up(sown: Sown) -> int:
    """Days until the slowest grass sown should show: the published or usual longest, later where thermal time
    at this soil says so; 14 where nothing is known (common practice)."""
    days = [14.0] if not sown.species else []
    for species in sown.species:
        days.append(float(tables.row("timing_germination", species=species)["up_high"]))
        if sown.soil is not None:
            try:
                half = thermal_days(species, sown.soil)
            except BadValue:  # too cold for this grass: the usual time is all there is to say
                half = None
            if half is not None:
                days.append(half.nominal)
    return round(max(days))


def days_to_first_cut(sown: Sown) -> int:
    """Days from sowing to the first cut of the slowest grass sown, in warm soil; never before it is up and a
    week on.

    Source: aftercare_first_cut.csv (from memory, unverified): it's the height that decides, not the day.
    """
    latest = [int(r["high"]) for r in tables.rows("aftercare_first_cut") if r["species"] in sown.species]
    return max([*latest, days_up(sown) + 7] if latest else [35, days_up(sown) + 7])


def step_down(height: float, target: float, first: date, gap: int | None = None) -> tuple[Cut, ...]:
    """Dated cuts [mm] that bring grass of `height` down to `target`, none taking more than a third.

    gap: days between two; left out, the least of aftercare_limits.csv. Raises BadValue when the grass is
    shorter than the target, or would take more than 12 cuts. Source: one-third rule, as in mowing.
    """
    days = round(limit("days_between")) if gap is None else gap
    return tuple(
        Cut(first + timedelta(days=days * place), cut)
        for place, cut in enumerate(steps_down(height, target, third()))
    )


def stages(
    operations: Iterable[str],
    done: date,
    sown: Sown | None = None,
    height_kept: float | None = None,
) -> Stages:
    """The weeks after these operations, done on a day. height_kept: height of cut the sward is kept at [mm].

    Source: each line's own. Raises BadValue for a height that isn't one.
    """
    if height_kept is not None and not 0 < height_kept <= 200:
        raise BadValue("height_kept", "The height of cut lies between 0 and 200 mm.")
    keys, seed = dict.fromkeys(operations), sown or Sown()
    up = done + timedelta(days=days_up(seed))
    first_cut = done + timedelta(days=days_to_first_cut(seed))
    cuts = _cuts(height_kept, first_cut) if "overseeding" in keys and height_kept else ()
    settled = round(limit("cuts_to_settle"))
    mown = (
        cuts[settled - 1].day
        if len(cuts) >= settled
        else first_cut + timedelta(days=round(limit("days_between")))
    )
    events = {"done": done, "up": up, "mown": mown}
    lines = [
        _line(row, events)
        for row in tables.rows("aftercare_stages")
        if row["operation"] in keys and row["unless"] not in keys
    ]
    lines += [_cut_line(place, cut) for place, cut in enumerate(cuts, start=1)]
    if "overseeding" in keys and not cuts:
        lines.append(_first_cut(first_cut))
    if lines and not any(line.for_contractor for line in lines):
        lines.append(_last_look(done))
    return Stages(
        done,
        up,
        mown,
        tuple(sorted(lines, key=lambda line: (line.first, line.last, line.key))),
        cuts,
        _signs(keys, "normal"),
        _signs(keys, "ring"),
    )


def _cuts(kept: float, first: date) -> tuple[Cut, ...]:
    """The first cut at half as high again as a first height of half as high again as the sward is kept; then
    down.

    So it comes down in steps from 2.25 times the height kept (18 to 8 mm and on, on a green at 8 mm).
    """
    return step_down(kept * limit("first_cut_rise") ** 2, kept, first)


def _line(row: Mapping[str, str], events: Mapping[str, date]) -> Line:
    first = events[row["from_event"]] + timedelta(days=int(row["from_day"]))
    last = events[row["to_event"]] + timedelta(days=int(row["to_day"]))
    every = int(row["every"]) if row["every"] else None
    return Line(
        row["key"],
        row["what"],
        first,
        max(first, last),
        row["sentence"],
        tables.source_of(row),
        every,
        row["name"],
    )


def _cut_line(place: int, cut: Cut) -> Line:
    shown = text_of(quantity(cut.height, "mm"))
    grown = text_of(quantity(cut.height * limit("first_cut_rise"), "mm"))
    sentence = (
        f"Cut {place}: to {shown}, once it stands at about {grown}, the leaf is dry and a light tug does "
        f"not lift it. Sharp blades; never more than a third."
    )
    source = tables.source_of(tables.row("aftercare_limits", key="first_cut_rise"))
    name = f"Cut to {shown}" if place > 1 else f"First cut, to {shown}"
    return Line(f"cut_{place}", "mow", cut.day, cut.day, sentence, source, name=name)


def _first_cut(day: date) -> Line:
    """The first cut of a sward whose height nobody has said."""
    sentence = (
        "First cut, once the new grass stands half as high again as it is to be kept, the leaf is dry and a "
        "light tug does not lift it. Sharp blades; never more than a third."
    )
    source = tables.source_of(tables.row("aftercare_limits", key="first_cut_rise"))
    return Line("cut_1", "mow", day, day, sentence, source, name="First cut")


def _last_look(done: date) -> Line:
    day = done + timedelta(days=round(limit("visit_longest")))
    source = tables.source_of(tables.row("aftercare_limits", key="visit_longest"))
    return Line(
        "last_look",
        "visit",
        day,
        day,
        "Look at the sward again, and take the readings again.",
        source,
        name="Look again",
    )


def _signs(keys: Mapping[str, None], sign: str) -> tuple[str, ...]:
    rows = (r for r in tables.rows("aftercare_signs") if r["sign"] == sign and r["operation"] in keys)
    return tuple(dict.fromkeys(r["sentence"] for r in rows))


@dataclass(frozen=True)
class Due:
    """A follow-up visit of a sward: overdue once its last day has passed."""

    sward: str
    line: Line
    overdue: bool


def due(swards: Mapping[str, Sequence[Line]], today: date, ahead: int = 14) -> tuple[Due, ...]:
    """The visits that fall due within `ahead` days or are overdue, soonest first, for a list of swards.

    swards: a sward's id → the visit lines that have not been done yet.
    """
    edge = today + timedelta(days=ahead)
    found = [
        Due(sward, line, line.last < today)
        for sward, lines in swards.items()
        for line in lines
        if line.for_contractor and line.first <= edge
    ]
    return tuple(sorted(found, key=lambda one: (one.line.first, one.sward)))
