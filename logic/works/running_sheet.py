"""The running sheet: after each strip, is the seed (or feed) lasting? A pure function of the run's state."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, Values, from_table
from logic.figure import PRACTICE, Figure, figure, step
from logic.units import nominal, quantity, text_of
from logic.works.operation import Ground, Operation, Work

#: What a state of the run can be called.
LASTING, SHORT, OVER, DONE = "lasting", "short", "over", "done"


@dataclass(frozen=True)
class Run:
    """Where a run stands. loaded, spare, left: mass weighed out, meant to come back, in the hopper now [g].

    done: the share of the run that has been walked (0 to 1). tolerance: near enough, as a share (0.05).
    """

    loaded: float
    spare: float
    left: float
    done: float
    tolerance: float

    @property
    def planned_left(self) -> float:
        """What should be in the hopper now [g]."""
        return self.loaded - (self.loaded - self.spare) * self.done

    @property
    def end_left(self) -> float:
        """What will be left at the end at the rate so far [g]; below 0 when it runs out first."""
        return self.loaded - (self.loaded - self.left) / self.done

    @property
    def change(self) -> float:
        """Factor on the rate for the rest of the run, so that it comes out at the spare."""
        used = (self.loaded - self.left) / self.done
        return (self.left - self.spare) / (1 - self.done) / used


@dataclass(frozen=True)
class Lasting:
    """What the sheet says: one of LASTING, SHORT, OVER, DONE, and a sentence."""

    state: str
    sentence: str


def lasting(run: Run) -> Lasting:
    """Whether it is lasting. Source: proportion; 5 % either way as for calibrating a spreader."""
    meant = (run.loaded - run.spare) * run.done
    off = (run.loaded - run.left) / meant - 1
    left, planned = _mass(run.left), _mass(run.planned_left)
    here = f"{left} left, {planned} planned"
    if run.done >= 1:
        return Lasting(DONE, f"Done: {left} left over, {_mass(run.spare)} expected.")
    if abs(off) <= run.tolerance + 1e-9:
        return Lasting(LASTING, f"It is lasting: {here}. Carry on.")
    if off > 0:
        if run.end_left < 0:
            at = (run.loaded / (run.loaded - run.left)) * run.done * 100
            end = f"it will run out after {text_of(quantity(at, '%'))} of the run"
        else:
            end = f"only {_mass(run.end_left)} will come back"
        return Lasting(SHORT, f"Going down too fast: {here}; {end}. Close the spreader or walk faster.")
    end = f"{_mass(run.end_left)} will be left"
    return Lasting(OVER, f"Going down too slowly: {here}; {end}. Open the spreader or walk slower.")


def _mass(grams: float) -> str:
    return text_of(quantity(grams, "g"))


def _field(key: str, label: str, **more: Any) -> Field:
    return from_table("works", "running_sheet", key, label, **more)


FORM = Form(
    fields=(
        _field("loaded", "Weighed out for this direction"),
        _field("spare", "Of it, meant to come back", help="The spare in the hopper."),
        _field("strips", "Strips in this direction", whole=True),
        _field(
            "strip_lengths",
            "Lengths of the strips",
            kind="list",
            entry="Strip",
            required=False,
            paces=True,
            help="In the order walked. Left empty, all strips count as equal.",
        ),
        _field(
            "left",
            "Left after each strip",
            kind="list",
            entry="Left after strip",
            help="Weigh the hopper after each strip, in order.",
        ),
        _field("tolerance", "Near enough", help="Either way."),
        _field("setting", "Setting of the spreader", required=False, help="Gives the setting to go on with."),
    )
)


def share_done(v: Values) -> float:
    """The share of the run that the strips weighed so far make up. Raises BadValue."""
    strips, weighed = round(v.strips), len(v.left)
    if weighed > strips:
        raise BadValue("left", f"There are {weighed} weighings, but only {strips} strips.")
    if not v.has("strip_lengths"):
        return float(weighed / strips)
    lengths = [nominal(length) for length in v.strip_lengths]
    if len(lengths) != strips:
        raise BadValue("strip_lengths", f"Give {strips} lengths, one for each strip, or none.")
    return float(sum(lengths[:weighed]) / sum(lengths))


def work(v: Values, ground: Ground) -> Work:
    """What is planned and what will be left at the rate so far. Raises BadValue for impossible weighings."""
    loaded, left = nominal(v.loaded), [nominal(x) for x in v.left]
    if nominal(v.spare) >= loaded:
        raise BadValue("spare", "The spare must be less than what is weighed out.")
    if any(later > earlier for earlier, later in zip([loaded, *left], left, strict=False)):
        raise BadValue("left", "There is more left than before: check the weighings, strip by strip.")
    run = Run(loaded, nominal(v.spare), left[-1], share_done(v), nominal(v.tolerance) / 100)
    if run.left == run.loaded:
        raise BadValue("left", "Nothing has gone down yet: is the spreader open?")
    said = lasting(run)
    figures = (*_progress(run, said), *_rest(v, run))
    return Work(figures, (said.sentence,) if said.state in (SHORT, OVER) else ())


def _progress(run: Run, said: Lasting) -> tuple[Figure, ...]:
    loaded, spare, left = (quantity(x, "g") for x in (run.loaded, run.spare, run.left))
    done, planned = quantity(run.done * 100, "%"), quantity(run.planned_left, "g")
    off = run.left - run.planned_left
    walked = step("{d} of the run walked", d=done)
    meant = step("{l} − {d} of ({l} − {s} spare) = {p}", l=loaded, d=done, s=spare, p=planned)
    compared = step("{n} left − {p} planned = {o}", n=left, p=planned, o=quantity(off, "g"))
    verdict = step("{sentence}", sentence=said.sentence)
    return (
        figure("share_done", "Done", run.done * 100, "%", walked, source=PRACTICE),
        figure("planned_left", "Planned to be left now", run.planned_left, "g", meant, source=PRACTICE),
        figure(
            "ahead",
            "Left, more than planned",
            off,
            "g",
            meant,
            compared,
            verdict,
            source=PRACTICE,
            headline=True,
        ),
    )


def _rest(v: Values, run: Run) -> list[Figure]:
    used = quantity(run.loaded - run.left, "g")
    line = step(
        "{l} − {u} used ÷ {d} done = {e}",
        l=quantity(run.loaded, "g"),
        u=used,
        d=quantity(run.done * 100, "%"),
        e=quantity(run.end_left, "g"),
    )
    found = [figure("end_left", "Left at the end, at this rate", run.end_left, "g", line, source=PRACTICE)]
    if v.has("setting") and run.done < 1 and run.change > 0:
        found.append(_setting(v.setting, run, used))
    return found


def _setting(setting: Any, run: Run, used: Any) -> Figure:
    """The setting to go on with: by proportion, as for calibrating a spreader."""
    guess = setting * run.change
    line = step(
        "{s} × ({r} for {t} of the run ÷ {u} used on {d}) = {g}",
        s=setting,
        r=quantity(run.left - run.spare, "g"),
        t=quantity((1 - run.done) * 100, "%"),
        u=used,
        d=quantity(run.done * 100, "%"),
        g=guess,
    )
    return figure("next_setting", "Setting to go on with", guess, "", line, source=PRACTICE, headline=True)


OPERATION = Operation(
    key="running_sheet",
    name="Running sheet",
    form=FORM,
    work=work,
    help="Weigh what is left after each strip: is it lasting?",
    group="check",
    order=94,
)
