"""What the tests and the brief did not tell, and what stands in the programme instead."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import AthleteProgramme, Node, Prescription, Programme, Session, Week
from speedloom.wording.dates import full_date, listing, runs
from speedloom.wording.names import athlete_name, athletes_of, place_name, word
from speedloom.wording.units import METRIC, Units, length, number

RUNS = frozenset({"acceleration", "top_speed"})
FEWEST_GATES = 3
MANY = 4
CLEARLY_M = 2.5
"""Half a step of the grid [m]: what is cut by less would have been rounded away."""


@dataclass(frozen=True)
class _Case:
    """One athlete's part, with what the brief holds of them."""

    programme: Programme
    own: AthleteProgramme
    content: ResolvedBrief

    @property
    def name(self) -> str:
        return athlete_name(self.programme, self.own.athlete)

    @property
    def person(self) -> Athlete | None:
        return athletes_of(self.programme).get(self.own.athlete)

    def lines(self) -> Iterator[tuple[Week, Session, Prescription]]:
        for week in self.own.weeks:
            for session in week.sessions:
                yield from ((week, session, one) for one in session.prescriptions if one.purpose == "work")

    def work(self) -> Iterator[Prescription]:
        return (line for _, _, line in self.lines())

    @property
    def tests(self) -> tuple[str, ...]:
        """The athlete's tests by date and timing, runs with a sled and flying ones left out."""
        measured = self.content.measurements
        timed = {
            trial.session
            for trial in measured.trials
            if trial.athlete == self.own.athlete and not trial.sled_kg and trial.start != "flying"
        }
        return tuple(sorted(timed | self.traces))

    @property
    def traces(self) -> set[str]:
        """The athlete's speed traces by date and timing."""
        return {
            trace.session for trace in self.content.measurements.traces if trace.athlete == self.own.athlete
        }

    @property
    def gates(self) -> int:
        """Gates of the test that is planned from."""
        trials = self.content.measurements.trials
        counts = (len(trial.splits) for trial in trials if trial.session == self.own.profile)
        return max(counts, default=0)

    @property
    def from_trace(self) -> bool:
        """Whether a speed trace is planned from."""
        return any(
            node.by == "profile.fit_trace" and node.inputs.get("trials") == f"test:{self.own.profile}"
            for node in self.programme.basis.values()
        )


def missing_lines(
    programme: Programme, *, athletes: Collection[str] | None = None, units: Units = METRIC
) -> Iterator[str]:
    """Say what could not be individualised and how it is prescribed, and what is assumed of the kit.

    `athletes` are the ones to speak of; all where none are given.
    """
    content = programme.brief.content
    if content is None:
        return
    cases = [
        _Case(programme, own, content)
        for own in programme.programmes
        if athletes is None or own.athlete in athletes
    ]
    yield from _tests_used(cases)
    yield from _leaning(cases)
    yield from _by_hand(cases)
    yield from _by_effort(cases)
    yield from _cut_by_the_straight(cases, units)
    yield from _without_kilograms(cases)
    yield from _friction(cases)


def _tests_used(cases: Iterable[_Case]) -> Iterator[str]:
    several = [case for case in cases if case.own.profile and len(case.tests) > 1]
    if len(several) > MANY:
        yield f"More than one test: {len(several)} athletes are each planned from the newest."
        return
    for case in several:
        others = listing(_test(one) for one in case.tests if one != case.own.profile)
        used = _test(case.own.profile or "")
        yield f"More than one test: {case.name} is planned from {used}, not from {others}."


def _test(ref: str) -> str:
    _, day, timing = ref.split("/")
    return f"{full_date(date.fromisoformat(day))} ({word(timing)})"


def _leaning(cases: Iterable[_Case]) -> Iterator[str]:
    names = [case.name for case in cases if case.gates >= FEWEST_GATES and _leans(case)]
    if names:
        yield f"Assumed in part: the profile of {listing(names)} leans on what is usual."


def _leans(case: _Case) -> bool:
    return any(node.inputs.get("prior") == "literal:population" for node in _fitted(case))


def _fitted(case: _Case) -> Iterator[Node]:
    for node in case.programme.basis.values():
        if node.by == "profile.fit" and node.inputs.get("trials") == f"test:{case.own.profile}":
            yield node


def _by_hand(cases: Iterable[_Case]) -> Iterator[str]:
    names = [case.name for case in cases if (case.own.profile or "").endswith("/hand")]
    if names:
        yield (
            f"Timed by hand: {listing(names)}. The bands carry the stopwatch; never compare them with gates."
        )


def _by_effort(cases: Iterable[_Case]) -> Iterator[str]:
    usual, wide = [], []
    for case in cases:
        ran = [line for line in case.work() if line.run in RUNS]
        without = [line for line in ran if line.expect is None]
        if not without:
            continue
        why = _why_usual(case)
        if why:
            usual.append(f"{case.name} ({why})")
        else:
            wide.append(f"{case.name} ({'all' if len(without) == len(ran) else 'some'})")
    if usual:
        yield (
            f"Runs by effort, no time expected: {listing(usual)}. "
            "Their distances are those usual for age and sex."
        )
    if wide:
        yield f"Runs by effort, for the time is known too roughly: {listing(wide)}."


def _why_usual(case: _Case) -> str:
    """Say why nothing about somebody's runs is their own, or nothing where they have a profile."""
    if case.own.profile is None:
        flying = any(
            trial.start == "flying" and trial.athlete == case.own.athlete
            for trial in case.content.measurements.trials
        )
        if case.tests:
            return "no trial that can be used"
        return "flying runs alone, which say nothing about the start" if flying else "no timed run"
    if case.from_trace or case.gates >= FEWEST_GATES:
        return ""
    return "one gate" if case.gates == 1 else "two gates"


def _cut_by_the_straight(cases: Iterable[_Case], units: Units) -> Iterator[str]:
    """Say where standing runs end because a straight does, and in which weeks."""
    cut: dict[tuple[str, float], list[tuple[int, float]]] = defaultdict(list)
    for case in cases:
        basis = case.programme.basis
        for week, session, line in case.lines():
            node = basis.get(line.basis.get("distance_m", ""))
            if line.run != "acceleration" or node is None or node.by != "round.distance":
                continue
            wanted, longest = (basis.get(node.inputs.get(name, "")) for name in ("distance_m", "longest_m"))
            if wanted is None or longest is None or longest.by != "run.longest":
                continue
            if float(wanted.value or 0.0) - float(longest.value or 0.0) >= CLEARLY_M:
                cut[session.place, line.distance_m or 0.0].append((week.number, float(wanted.value or 0.0)))
    for (place, reached), found in sorted(cut.items()):
        numbers = sorted({number for number, _ in found})
        most = length(round(max(wanted for _, wanted in found)), units=units)
        yield (
            f"Cut by the straight ({place_name(place)}): standing runs end at {length(reached, units=units)} "
            f"where up to {most} are wanted, in week{'s' * (len(numbers) > 1)} {runs(numbers)}."
        )


def _without_kilograms(cases: Iterable[_Case]) -> Iterator[str]:
    names = []
    for case in cases:
        lifts = [line for line in case.work() if line.method == "maximal_strength" and line.rir is not None]
        taught = case.person is not None and case.person.level.get("maximal_strength", "novice") != "novice"
        bare = [line for line in lifts if line.load_kg is None]
        if taught and bare:
            names.append(f"{case.name} ({_why_bare(case, {line.exercise for line in bare})})")
    if names:
        yield f"Lifts by repetitions in reserve, without kilograms: {listing(names)}."


def _why_bare(case: _Case, exercises: Collection[str]) -> str:
    known = {lift.exercise for lift in (case.person.lifts if case.person else ())}
    if known.intersection(exercises):
        return "no set that is short enough to tell a 1RM"
    return "no set of this lift" if known else "no set of any lift"


def _friction(cases: Iterable[_Case]) -> Iterator[str]:
    if not any(line.kit for case in cases for line in case.work() if line.method == "resisted_sprint"):
        return
    basis = next(iter(cases)).programme.basis.values()
    for node in basis:
        if node.by == "friction.middle" and node.inputs.get("low", "").startswith("rule:"):
            middle, low, high = (
                number(float(value or 0.0), decimals=2) for value in (node.value, node.low, node.high)
            )
            yield (
                f"Assumed: friction of the sled {middle} ({low} to {high}), nobody has timed it here; "
                "the times on it are as wide as that."
            )
