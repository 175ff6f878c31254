"""The warm-up of a session in words: its steps, its build-up runs, and what is different for whom."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from speedloom.training.athlete import Athlete, Limit
from speedloom.training.exercise import Catalogue, WarmUpStep
from speedloom.training.programme import Prescription, Session
from speedloom.training.words import Level
from speedloom.wording.dates import listing
from speedloom.wording.line_words import dose
from speedloom.wording.names import line_name
from speedloom.wording.units import METRIC, Units, number, share

NO_JUMPS = "no jumps in the warm-up"
METRES = "Distances of the drills are in metres"
_JUMPS = {"hop", "bound", "plyometric", "jump"}


@dataclass(frozen=True)
class Warming:
    """One athlete's session with what is known of the person."""

    name: str
    session: Session
    person: Athlete | None

    @property
    def ready(self) -> tuple[Prescription, ...]:
        """The lines before the work."""
        return tuple(line for line in self.session.prescriptions if line.purpose != "work")

    @property
    def kind(self) -> str:
        """Which warm-up this athlete does."""
        return next((line.exercise for line in self.ready if line.purpose == "warm_up"), "")

    @property
    def build_ups(self) -> Prescription | None:
        """The build-up runs, where there are some."""
        return next((line for line in self.ready if line.purpose == "build_up"), None)

    @property
    def without_limits(self) -> Warming:
        """The same, with nothing of the person's limits."""
        person = self.person.model_copy(update={"restrictions": ()}) if self.person else None
        return replace(self, person=person)

    def level(self, *, gym: bool) -> Level | None:
        """Give the level the warm-up is chosen by; None where it is not known."""
        return (
            self.person.level.get("maximal_strength" if gym else "unloaded_sprint") if self.person else None
        )


@dataclass(frozen=True)
class WarmUpWords:
    """A squad's warm-up: head, steps for all, and what is different for some."""

    head: str
    steps: tuple[str, ...]
    others: tuple[str, ...]


def squad_warm_up(
    present: Sequence[Warming], *, catalogue: Catalogue, units: Units = METRIC, limits: bool = True
) -> WarmUpWords:
    """Write the warm-up most of a squad do, and name everybody whose own is different.

    Args:
        present: who warms up.
        catalogue: the exercises.
        units: what is read in.
        limits: False says nothing of anybody's limits, for papers that everybody reads.
    """
    warming = [one for one in present if one.ready]
    if not warming:
        return WarmUpWords("", (), ())
    usual = _usual(warming)
    minutes = max(sum(line.minutes for line in one.ready) for one in warming if one.kind == usual.kind)
    steps = tuple(_steps(usual, warming, catalogue=catalogue, units=units))
    free = warming if limits else [one.without_limits for one in warming]
    others = tuple(_others(usual, free, catalogue=catalogue, units=units))
    return WarmUpWords(f"Warm-up {number(minutes)} min", steps, others)


def own_warm_up(
    session: Session, person: Athlete | None, *, catalogue: Catalogue, units: Units = METRIC
) -> str:
    """Write one athlete's warm-up in a line."""
    one = Warming("", session, person)
    names = [
        f"build-ups {dose(line, units=units)}{_up_to(line)}"
        if line.purpose == "build_up"
        else line_name(line, catalogue=catalogue)
        for line in one.ready
    ]
    if names and not jumps_allowed(person, on=session.date):
        names.append(NO_JUMPS)
    minutes = sum(line.minutes for line in one.ready)
    return f"{', '.join(names)} ({number(minutes)} min)" if names else ""


def own_warm_up_steps(
    sessions: Iterable[Session], person: Athlete | None, *, catalogue: Catalogue
) -> tuple[tuple[str, str], ...]:
    """Write what each warm-up of somebody's sessions holds, once: its name and its steps in a line."""
    found = []
    every = [Warming("", session, person) for session in sessions]
    for warm_up in catalogue.warm_ups:
        doing = [one for one in every if one.kind == warm_up.ref]
        steps = list(_drills(doing[0], doing[:1], catalogue)) if doing else []
        if steps and not all(jumps_allowed(person, on=one.session.date) for one in doing):
            steps.append(NO_JUMPS)
        if steps:
            found.append((warm_up.name, "; ".join(steps)))
    return tuple(found)


def jumps_allowed(person: Athlete | None, *, on: date) -> bool:
    """Say whether the small jumps of a warm-up are free of limits on a day."""
    held = (restriction for restriction in (person.restrictions if person else ()) if restriction.holds(on))
    return not any(_on_jumps(limit) for restriction in held for limit in restriction.limits)


def _on_jumps(limit: Limit) -> bool:
    if limit.tag:
        return limit.tag in _JUMPS
    return limit.what == "contacts" and limit.exercise is None


def _usual(warming: Sequence[Warming]) -> Warming:
    """Choose whose warm-up stands for all: what most do, then the one with most build-up runs."""
    kinds = Counter(one.kind for one in warming)
    return max(warming, key=lambda one: (kinds[one.kind], one.build_ups.reps if one.build_ups else 0))


def _steps(
    usual: Warming, warming: Sequence[Warming], *, catalogue: Catalogue, units: Units
) -> Iterator[str]:
    yield from _drills(usual, [one for one in warming if one.kind == usual.kind], catalogue)
    if usual.build_ups is not None:
        shares = _shares(usual, catalogue=catalogue)
        yield f"Build-ups {dose(usual.build_ups, units=units)}{shares}, walk back"
    if units.length != "m":
        yield METRES


def _drills(usual: Warming, alike: Sequence[Warming], catalogue: Catalogue) -> Iterator[str]:
    for warm_up in catalogue.warm_ups:
        for step in warm_up.steps if warm_up.ref == usual.kind else ():
            whom = _for_whom(step, alike, gym="gym" in warm_up.place)
            if whom is not None:
                yield f"{_signs(step.what)}{whom} ({number(step.minutes)} min)"


def _for_whom(step: WarmUpStep, warming: Sequence[Warming], *, gym: bool) -> str | None:
    """Say whom a step is for: nothing where all do it, None where nobody does."""
    doing = [one for one in warming if not step.levels or one.level(gym=gym) in {*step.levels, None}]
    if len(doing) == len(warming):
        return ""
    return f", {listing(one.name for one in doing)} only" if doing else None


def _others(
    usual: Warming, warming: Sequence[Warming], *, catalogue: Catalogue, units: Units
) -> Iterator[str]:
    said: dict[str, list[str]] = {}
    for one in warming:
        own = "; ".join(_own(one, usual, catalogue=catalogue, units=units))
        if own:
            said.setdefault(own, []).append(one.name)
    for own, names in said.items():
        yield f"{listing(names)}: {own}"


def _own(one: Warming, usual: Warming, *, catalogue: Catalogue, units: Units) -> Iterator[str]:
    if one.kind != usual.kind:
        yield _other_kind(one, catalogue=catalogue)
    runs, theirs = one.build_ups, usual.build_ups
    if runs is None and theirs is not None:
        yield "no build-ups"
    elif runs is not None and (theirs is None or _run(runs) != _run(theirs)):
        yield f"build-ups {dose(runs, units=units)}{_up_to(runs)}"
    if not jumps_allowed(one.person, on=one.session.date):
        yield NO_JUMPS


def _run(line: Prescription) -> tuple[object, ...]:
    return (line.reps, line.distance_m, line.effort)


def _other_kind(one: Warming, *, catalogue: Catalogue) -> str:
    known = next((warm_up for warm_up in catalogue.warm_ups if warm_up.ref == one.kind), None)
    if known is None:
        return "own warm-up"
    steps = ". ".join(
        _signs(step.what) for step in known.steps if _for_whom(step, [one], gym=False) is not None
    )
    return f"{known.name} ({steps})"


def _up_to(line: Prescription) -> str:
    return f" up to {share(line.effort)}" if line.effort else ""


def _shares(one: Warming, *, catalogue: Catalogue) -> str:
    known = next((warm_up for warm_up in catalogue.warm_ups if warm_up.ref == one.kind), None)
    if known is None or known.build_ups is None or one.build_ups is None:
        return _up_to(one.build_ups) if one.build_ups else ""
    most = one.build_ups.effort or 1.0
    efforts = [share(effort).removesuffix(" %") for effort in known.build_ups.shares if effort <= most]
    return f" at {', '.join(efforts)} %" if efforts else _up_to(one.build_ups)


def _signs(what: str) -> str:
    return what.replace(" x ", " × ")
