"""Loads that were too easy or too hard move the next one by a step: two-for-two, and reps in reserve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from speedloom.planning.plates import loadable
from speedloom.training.athlete import Athlete, Limit
from speedloom.training.exercise import Exercise
from speedloom.training.kit import Kit
from speedloom.training.log import Result
from speedloom.training.programme import Node, Prescription, Session, Week
from speedloom.workflows.explain import Step
from speedloom.workflows.sharpen_lifts import known_maximum
from speedloom.workflows.sharpen_printed import Figure
from speedloom.workflows.sharpen_proposal import LoadEdit, News, Proposal, Scene
from speedloom.workflows.standing_log import StandingEntry

METHODS = frozenset({"maximal_strength", "general_strength"})
FULL_WEEKS = frozenset({"loading", "in_season"})
_TINY = 1e-9
Way = Literal["up", "down"]


@dataclass(frozen=True)
class Done:
    """A line that was done by its repetitions, and its sets in order."""

    entry: StandingEntry
    line: Prescription
    sets: tuple[Result, ...]
    full_week: bool

    @property
    def last(self) -> Result:
        """The last set."""
        return self.sets[-1]

    @property
    def load_kg(self) -> float:
        """The load of the last set [kg]."""
        return self.last.load_kg or 0.0

    @property
    def missed(self) -> int:
        """How many repetitions a set fell short by, with fewer left than written."""
        reserve = self.line.rir or 0
        tried = [one.reps or 0 for one in self.sets if one.rir is None or one.rir <= max(0, reserve - 1)]
        return self.line.reps - min(tried, default=self.line.reps)

    @property
    def at_least_written(self) -> bool:
        """Whether the load was not lighter than written; where none was written it is the athlete's."""
        return self.load_kg >= (self.line.load_kg or 0.0) - _TINY

    @property
    def counts_up(self) -> bool:
        """Whether it can say that a load is too light: not in a light week, nor with less than written."""
        return self.full_week and self.at_least_written

    @property
    def at_most_written(self) -> bool:
        """Whether the load was not heavier than written."""
        return self.line.load_kg is None or self.load_kg <= self.line.load_kg + _TINY


@dataclass(frozen=True)
class Verdict:
    """Which way the next load goes, by which rule, and the lines that say so."""

    way: Way
    reason: str
    rule: str
    lines: tuple[Done, ...]


def load_proposals(scene: Scene, *, sharper: Sequence[Proposal]) -> Iterator[Proposal]:
    """Propose a step of the next load, where no sharper maximum moves that load the same way already."""
    moved = {one.values["line"]: one.values["load_after_kg"] for one in sharper if one.kind == "one_rep_max"}
    for athlete in scene.brief.athletes:
        for exercise in _loaded(scene, athlete):
            proposal = _proposal(scene, athlete, exercise)
            if proposal is not None and not _covered(proposal, moved):
                yield proposal


def _covered(proposal: Proposal, moved: dict[str, float]) -> bool:
    """Say whether a new maximum moves this very load as far: one finding moves one number once."""
    load = moved.get(proposal.news.edits[0].ref)
    if load is None or proposal.before is None:
        return False
    up = proposal.after.value > proposal.before.value
    return load >= proposal.after.value - _TINY if up else load <= proposal.after.value + _TINY


def _loaded(scene: Scene, athlete: Athlete) -> list[Exercise]:
    refs = sorted({one.entry.exercise or "" for one in scene.known(athlete.ref)})
    known = [found for ref in refs if (found := scene.catalogue.get(ref)) is not None]
    return [one for one in known if one.method in METHODS]


def _proposal(scene: Scene, athlete: Athlete, exercise: Exercise) -> Proposal | None:
    done = _done(scene, athlete, exercise)
    target = _next(scene, athlete, exercise, done)
    verdict = verdict_of(scene, done)
    if target is None or verdict is None:
        return None
    week, session, line = target
    if verdict.way == "up" and week.kind not in FULL_WEEKS:
        return None
    kit = _kit(scene, exercise, line, session)
    stood = line.load_kg if line.load_kg is not None else done[-1].load_kg
    load = None if kit is None else _stepped(scene, _masses(kit, exercise), stood, verdict.way)
    cap = _cap(scene, athlete, exercise, session)
    if load is None or load == stood or (verdict.way == "up" and cap is not None and load > cap + _TINY):
        return None
    before, after = Figure(stood, None, None, "kg"), Figure(load, None, None, "kg")
    return Proposal(
        id=f"{athlete.ref}/{exercise.ref}/next_load",
        athlete=athlete.ref,
        kind="next_load",
        what=exercise.ref,
        before=before,
        after=after,
        reason=verdict.reason,
        values={"line": line.ref, "date": session.date.isoformat(), **_told(verdict)},
        steps=_steps(verdict, before, after),
        entries=tuple(one.entry.entry.id for one in verdict.lines),
        news=News(edits=(LoadEdit(line.ref, "load_kg", load),)),
    )


def _told(verdict: Verdict) -> dict[str, object]:
    last = verdict.lines[-1]
    return {
        "sessions": len(verdict.lines),
        "reps": min(one.reps or 0 for one in last.sets) if verdict.way == "down" else last.last.reps,
        "target": last.line.reps_to or last.line.reps,
        "fewest": last.line.reps,
        "rir": last.last.rir,
        "written_rir": last.line.rir,
    }


def _done(scene: Scene, athlete: Athlete, exercise: Exercise) -> list[Done]:
    """Give the lines that were done and written down, oldest first, from the last step on."""
    weeks = {
        line.ref: week.kind
        for own in scene.programme.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
    }
    # Sets that have moved the maximum already have had their say: nothing is stacked.
    accepted = [lift.date for lift in athlete.lifts if lift.exercise == exercise.ref and lift.se_kg]
    said = max(accepted, default=date.min)
    found: list[Done] = []
    for one in scene.known(athlete.ref):
        line = one.line if one.entry.date > said else None
        if line is None or one.entry.exercise != exercise.ref or line.exercise != exercise.ref:
            continue
        if one.entry.status not in {"done", "modified"} or one.entry.reason in {"pain", "illness"}:
            continue
        sets = _sets(scene, one)
        if line.rir is not None and sets:
            new = Done(one, line, sets, weeks.get(line.ref) in FULL_WEEKS)
            if found and found[-1].line.ref == line.ref:
                new = _joined(found.pop(), new)  # Sets written down one by one on the field are one line.
            elif "load_kg" in line.locked:
                found.clear()  # What was said before the last step has moved a load already.
            found.append(new)
    return found


def _joined(one: Done, later: Done) -> Done:
    """Join what two entries say of one line: of each set the later word."""
    sets = {(result.set, result.rep or 0): result for result in (*one.sets, *later.sets)}
    return replace(later, sets=tuple(sets[place] for place in sorted(sets)))


def _sets(scene: Scene, one: StandingEntry) -> tuple[Result, ...]:
    sets = [
        result
        for result in scene.log.usable_results(one)
        if result.load_kg and result.reps is not None and result.time_s is None
    ]
    heaviest = max((result.load_kg or 0.0 for result in sets), default=0.0)
    written = one.line.load_kg if one.line else None
    limit = 1.0 + scene.number("one_rep_max_update", "usable_share")
    if written and not written / limit <= heaviest <= written * limit:
        return ()
    return tuple(sorted(sets, key=lambda result: (result.set, result.rep or 0)))


def verdict_of(scene: Scene, done: Sequence[Done]) -> Verdict | None:
    """Judge the newest lines; too hard is heard before too easy."""
    if not done:
        return None
    return _too_hard(scene, done) or _too_easy(scene, done)


def _too_hard(scene: Scene, done: Sequence[Done]) -> Verdict | None:
    newest = done[-1]
    if newest.at_most_written and newest.missed >= scene.number("load_steps", "missed_reps"):
        return Verdict("down", "missed_reps", "load_steps", (newest,))
    running = done[-int(scene.number("load_steps", "short_sessions")) :]
    short = scene.number("load_steps", "short_reps")
    if len(running) >= scene.number("load_steps", "short_sessions") and all(
        one.at_most_written and _spare(one) is not None and -(_spare(one) or 0) >= short for one in running
    ):
        return Verdict("down", "less_reserve", "load_steps", tuple(running))
    return None


def _spare(one: Done) -> int | None:
    """Give how many more repetitions were left than written, or None."""
    if one.last.rir is None or one.line.rir is None:
        return None
    return one.last.rir - one.line.rir


def _too_easy(scene: Scene, done: Sequence[Done]) -> Verdict | None:
    extra = scene.number("two_for_two", "extra_reps")
    running = done[-int(scene.number("two_for_two", "sessions")) :]
    if len(running) >= scene.number("two_for_two", "sessions") and all(
        one.counts_up and (one.last.reps or 0) - (one.line.reps_to or one.line.reps) >= extra
        for one in running
    ):
        return Verdict("up", "two_for_two", "two_for_two", tuple(running))
    spare = scene.number("load_steps", "spare_reps")
    running = done[-int(scene.number("load_steps", "spare_sessions")) :]
    if len(running) >= scene.number("load_steps", "spare_sessions") and all(
        one.counts_up and (_spare(one) or 0) >= spare and (one.last.reps or 0) >= one.line.reps
        for one in running
    ):
        return Verdict("up", "more_reserve", "load_steps", tuple(running))
    return None


def _next(
    scene: Scene, athlete: Athlete, exercise: Exercise, done: Sequence[Done]
) -> tuple[Week, Session, Prescription] | None:
    """Give the next line of the exercise that is done by reps in reserve and not set by hand already."""
    if not done:
        return None
    for week, session, line in scene.ahead(athlete.ref):
        if line.exercise == exercise.ref and line.rir is not None:
            return None if "load_kg" in line.locked or session.locked else (week, session, line)
    return None


def _kit(scene: Scene, exercise: Exercise, line: Prescription, session: Session) -> Kit | None:
    own = next((kit for kit in scene.brief.kit if kit.ref == line.kit), None)
    kinds = {exercise.load_kind, exercise.load_kind.removesuffix("s")}
    there = (kit for kit in scene.brief.kit if kit.kind in kinds and kit.place == session.place)
    return own or next(there, None)


def _masses(kit: Kit, exercise: Exercise) -> tuple[float, ...]:
    """Give what can be lifted with a kit, lightest first [kg]; a pair of dumbbells counts as both."""
    if exercise.load_kind == "dumbbells" and kit.weights_kg:
        return tuple(sorted(2 * mass for mass, pieces in kit.weights_kg if pieces > 1))
    return loadable(kit)


def _stepped(scene: Scene, made: tuple[float, ...], stood: float, way: Way) -> float | None:
    """Give the next load the kit can make: up by the least rise, never beyond the largest; down by one."""
    least, most = (scene.number("two_for_two", f"rise_{end}") for end in ("low", "high"))
    if way == "down":
        return max((mass for mass in made if mass <= stood * (1.0 - least) + _TINY), default=None)
    up = min((mass for mass in made if mass >= stood * (1.0 + least) - _TINY), default=None)
    return up if up is not None and up <= stood * (1.0 + most) + _TINY else None


def _cap(scene: Scene, athlete: Athlete, exercise: Exercise, session: Session) -> float | None:
    """Give the tightest limit in kilograms on the day; a share of an unknown maximum allows nothing more."""
    caps: list[float] = []
    limits = (limit for held in athlete.restrictions if held.holds(session.date) for limit in held.limits)
    for limit in limits:
        if not _touches(limit, exercise):
            continue
        if limit.what == "load_kg":
            caps.append(limit.at_most)
        elif limit.what == "share_1rm":
            caps.append(limit.at_most * (known_maximum(scene, athlete, exercise.ref) or 0.0))
    return min(caps, default=None)


def _touches(limit: Limit, exercise: Exercise) -> bool:
    return (
        limit.method in {None, exercise.method}
        and limit.exercise in {None, exercise.ref}
        and (limit.tag is None or limit.tag in exercise.tags)
    )


def _steps(verdict: Verdict, before: Figure, after: Figure) -> tuple[Step, ...]:
    inputs = {"load_kg": f"literal:{before.value:g}"}
    inputs |= {
        f"entry_{number}": f"log:{one.entry.entry.id}" for number, one in enumerate(verdict.lines, start=1)
    }
    source, mark = (
        ("baechle_earle", "second-hand")
        if verdict.rule == "two_for_two"
        else ("common_practice", "common practice")
    )
    node = Node.model_validate(
        {
            "quantity": "load",
            "value": after.value,
            "unit": "kg",
            "by": verdict.rule,
            "inputs": inputs,
            "source": source,
            "mark": mark,
        }
    )
    return (Step("s1", node),)
