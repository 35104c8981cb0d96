"""From the day as it was kept to what a paper says of it: hours, amounts, what was agreed, who signed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from logic.errors import BadValue
from logic.programme.day import DONE, SKIPPED, Day, DayStep, StepState, state
from logic.programme.stages import Line, Stages
from logic.report.content import Agreed, Amount, Care, Done, Signature
from logic.report.words import ENGLISH, Words
from logic.units import quantity, read_written, text_of


def done_of(day: Day, system: str = "metric", words: Words = ENGLISH) -> tuple[Done, ...]:
    """The steps as they went, once anything was done; nothing before. Times are those where the phone is."""
    if not any(event.do in ("start", "finish", "skip") for event in day.log):
        return ()
    stood = state(day)
    return tuple(_step(one, stood.steps[one.id], system, words) for one in day.steps)


def _step(step: DayStep, went: StepState, system: str, words: Words) -> Done:
    if went.status == SKIPPED:
        return Done(step.name, words.left_out.format(reason=went.reason), (), went.notes)
    if went.status != DONE and went.started is None:
        return Done(step.name, words.not_done, (), went.notes)
    amounts = []
    for planned in step.planned:
        used = went.actual.get(planned.key)
        amounts.append(
            Amount(
                planned.name,
                _amount(planned.value, system),
                _amount(used.value, system) if used else "",
                used.reason if used else "",
            )
        )
    return Done(step.name, ", ".join(_facts(step, went, words)), tuple(amounts), went.notes)


def _facts(step: DayStep, went: StepState, words: Words) -> Iterator[str]:
    if went.started:
        start = went.started.astimezone()
        if went.ended and went.ended > went.started:
            yield words.from_to.format(start=f"{start:%H:%M}", end=f"{went.ended.astimezone():%H:%M}")
        else:
            yield f"{start:%H:%M}"
    if went.spent >= 60:
        yield words.minutes.format(count=round(went.spent / 60))
    if went.passes:
        yield words.one_pass if went.passes == 1 else words.passes.format(count=went.passes)
    if step.machine:
        yield step.machine


def _amount(written: str, system: str) -> str:
    """An amount as typed, in the units of the paper; as it stands where it can't be read."""
    try:
        read = read_written(written, "")
        return text_of(quantity(read.value, read.unit), system)
    except BadValue:
        return written


def agreed_of(
    works: Sequence[Mapping[str, Any]], names: Sequence[str], besides: Sequence[Mapping[str, Any]]
) -> tuple[Agreed, ...]:
    """What was agreed on single works (`names`: what each is called) and on the whole job."""
    found = []
    for entry, name in zip(works, names, strict=True):
        one = _agreed(entry.get("agreed"))
        if one:
            found.append(Agreed(f"{name}: {one.words}", one.name, one.day))
    return (*found, *(one for one in map(_agreed, besides) if one))


def _agreed(raw: Any) -> Agreed | None:
    if not isinstance(raw, Mapping) or not str(raw.get("words") or "").strip():
        return None
    return Agreed(str(raw["words"]), str(raw.get("name") or ""), _day(raw.get("at")))


def signature_of(raw: Any) -> Signature | None:
    """The signature in what was stored; None where there is none that can be drawn."""
    if not isinstance(raw, Mapping):
        return None
    strokes = tuple(filter(None, map(_stroke, raw.get("strokes") or ())))
    return Signature(str(raw.get("name") or ""), _day(raw.get("at")), strokes) if strokes else None


def _stroke(raw: Any) -> tuple[tuple[float, float], ...]:
    try:
        return tuple((float(x), float(y)) for x, y in raw)
    except (TypeError, ValueError):
        return ()


def _day(raw: Any) -> date | None:
    try:
        moment = datetime.fromisoformat(str(raw))
    except ValueError:
        return None
    return moment.astimezone().date() if moment.tzinfo else moment.date()


def care_lines(found: Stages, words: Words = ENGLISH) -> tuple[Care, ...]:
    """The weeks after as the customer reads them, our own visits among them."""
    return tuple(Care(_sentence(line, words), line.name, line.first, line.last) for line in found.lines)


def _sentence(line: Line, words: Words) -> str:
    if not line.for_contractor:
        return line.sentence
    return words.our_visit.format(sentence=line.sentence[:1].lower() + line.sentence[1:])
