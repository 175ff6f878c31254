"""What became of each session and line by what stands in the log."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import time
from functools import cached_property, reduce
from operator import add
from typing import Literal

from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene
from speedloom.training.exercise import Exercise
from speedloom.training.log import LogEntry, Result
from speedloom.training.programme import Prescription, RetiredLine, Session, Week
from speedloom.training.succession import as_it_stood
from speedloom.training.words import SPRINTS, Run
from speedloom.workflows.logged_runs import by_repetition, gates_of
from speedloom.workflows.review_amounts import Portion, amounts, portions_of
from speedloom.workflows.reviewed import Amounts, Beside, SessionState
from speedloom.workflows.standing_log import NOT_TRAINED, StandingEntry

Outcome = Literal["as_written", "results", "not_done", "nothing_written"]


@dataclass(frozen=True)
class LineOutcome:
    """What became of one working line; `results` count, `unusual` ones do not, `reason` is as logged."""

    work: Work
    outcome: Outcome
    results: tuple[Result, ...] = ()
    unusual: tuple[Result, ...] = ()
    reason: str | None = None

    @cached_property
    def done(self) -> tuple[Portion, ...]:
        """The work that was done."""
        if self.outcome == "as_written":
            return (Portion(self.work),)
        return portions_of(self.work, self.results)

    @property
    def amounts(self) -> Beside:
        """Planned, done and not written down."""
        planned = amounts([Portion(self.work)])
        unwritten = planned if self.outcome == "nothing_written" else amounts(self._unsure)
        return Beside(planned, amounts(self.done), unwritten)

    @cached_property
    def _unsure(self) -> tuple[Portion, ...]:
        """What the unusual results would be as written: something was done there, but not known what."""
        plain = (Result(set=one.set, rep=one.rep) for one in self.unusual)
        return portions_of(self.work, plain)

    @property
    def count(self) -> tuple[int, int]:
        """Repetitions of a run, else sets: those somebody wrote of, unusual ones too, and those planned."""
        runs = self.work.is_run or self.work.is_sled
        portions = (*self.done, *self._unsure)
        done = sum(portion.work.repetitions if runs else portion.work.line.sets for portion in portions)
        return done, self.work.repetitions if runs else self.work.line.sets


@dataclass(frozen=True)
class SessionOutcome:
    """What became of one session: its lines, and what was said of it as a whole."""

    session: Session
    state: SessionState
    lines: tuple[LineOutcome, ...]
    entries: tuple[StandingEntry, ...]
    as_written: bool = False

    @property
    def whole(self) -> LogEntry | None:
        """The last word on the session as a whole."""
        return last_word(one.entry for one in self.entries if is_whole(one.entry))

    @property
    def amounts(self) -> Beside:
        """Planned, done and not written down, minutes included."""
        lines = reduce(add, (line.amounts for line in self.lines), Beside())
        return lines + self._minutes

    @property
    def _minutes(self) -> Beside:
        planned = Amounts(minutes=self.session.minutes)
        if self.state == "not_done":
            return Beside(planned)
        minutes = minutes_of(self.session, [one.entry for one in self.entries])
        if minutes is None:
            return Beside(planned, unwritten=planned)
        return Beside(planned, Amounts(minutes=minutes))


def is_whole(entry: LogEntry) -> bool:
    """Say whether an entry is about a session as a whole."""
    return entry.line is None and entry.exercise is None


def last_word(entries: Iterable[LogEntry]) -> LogEntry | None:
    """Give the latest of some entries."""
    return max(entries, key=lambda entry: entry.order, default=None)


def minutes_of(session: Session | None, entries: Sequence[LogEntry]) -> float | None:
    """Give a session's minutes: as logged, as planned where it was done as written, else None."""
    said = last_word(entry for entry in entries if entry.line is None and entry.minutes is not None)
    if said is not None:
        # Unusual minutes make no session load, nor are they filled up from the plan.
        return None if said.mark == "unusual" else said.minutes
    whole = last_word(entry for entry in entries if is_whole(entry))
    return session.minutes if session and whole and whole.status == "done" else None


def session_outcome(
    scene: Scene,
    person: Person,
    week: Week,
    session: Session,
    entries: Sequence[StandingEntry],
    *,
    written: bool = False,
) -> SessionOutcome:
    """Say what became of a session that is over, by the entries about it and its lines.

    A session that was done as a whole was done as written then: only lines that stood in it when that was
    written count, and none where somebody wrote of its lines, gone ones too (`written`).
    """
    works = scene.works(person, week, session)
    whole = last_word(one.entry for one in entries if is_whole(one.entry))
    about = {work.line.ref: _about(work.line.ref, entries) for work in works}
    unsaid = _unsaid(whole, session, lines_written=written or any(about.values()))
    lines = tuple(
        _line(work, about[work.line.ref], otherwise=_unless_later(unsaid, whole, work), whole=whole)
        for work in works
    )
    return SessionOutcome(
        session,
        _state(whole, lines, written=bool(entries)),
        lines,
        tuple(entries),
        as_written=unsaid == "as_written" and any(line.outcome == "as_written" for line in lines),
    )


def _about(line: str, entries: Sequence[StandingEntry]) -> tuple[LogEntry, ...]:
    """Give the entries about a line; one found by its exercise only counts where nobody wrote of the line."""
    own = [one for one in entries if one.line is not None and one.line.ref == line]
    named = [one.entry for one in own if one.entry.line == line]
    return tuple(named or (one.entry for one in own))


def _unsaid(whole: LogEntry | None, session: Session, *, lines_written: bool) -> Outcome:
    """Say what became of lines that nobody wrote of."""
    if whole is not None and whole.status in NOT_TRAINED:
        return "not_done"
    # A session that is gone, found by its day, was done as it was written: not as this one is.
    meant = whole is not None and whole.session in {session.ref, None}
    as_written = meant and whole is not None and whole.status == "done" and not lines_written
    return "as_written" if as_written else "nothing_written"


def _unless_later(unsaid: Outcome, whole: LogEntry | None, work: Work) -> Outcome:
    """Say that nothing was written of a line that came after the session was noted as done."""
    first = work.person.programme.came_later.get(work.line.ref, 1)
    later = unsaid == "as_written" and whole is not None and first > whole.revision
    return "nothing_written" if later else unsaid


def _line(
    work: Work, entries: Sequence[LogEntry], *, otherwise: Outcome, whole: LogEntry | None
) -> LineOutcome:
    last = last_word(entries)
    if last is None:
        reason = whole.reason if whole and otherwise == "not_done" else None
        return LineOutcome(work, otherwise, reason=reason)
    if any(entry.results for entry in entries):
        results = _merged(entries)
        usual = tuple(result for result in results if result.mark != "unusual")
        unusual = tuple(result for result in results if result.mark == "unusual")
        return LineOutcome(work, "results", usual, unusual, last.reason)
    if last.status in NOT_TRAINED:
        return LineOutcome(work, "not_done", reason=last.reason)
    return LineOutcome(work, "as_written" if last.status == "done" else "nothing_written", reason=last.reason)


def _merged(entries: Sequence[LogEntry]) -> tuple[Result, ...]:
    """Join what several entries say of one line: of each repetition the later word, of its gates the last."""
    said: dict[tuple[int, int], tuple[Result, ...]] = {}
    for entry in sorted(entries, key=lambda one: one.order):
        for place, those in by_repetition(entry.results).items():
            joined = gates_of((*said.get(place, ()), *those))
            said[place] = joined or gates_of(those) or those[-1:]
    return tuple(those[-1] for _, those in sorted(said.items()))


def _state(whole: LogEntry | None, lines: Sequence[LineOutcome], *, written: bool) -> SessionState:
    if not written:
        return "nothing_written"
    outcomes = {line.outcome for line in lines}
    if outcomes <= {"not_done"} and (lines or (whole and whole.status in NOT_TRAINED)):
        return "not_done"
    stopped = whole is not None and whole.status in {"stopped", "modified", *NOT_TRAINED}
    short = outcomes & {"not_done", "nothing_written"} or any(_is_short(line) for line in lines)
    return "partly" if stopped or short else "done"


def _is_short(line: LineOutcome) -> bool:
    done, planned = line.count
    return line.outcome == "results" and done < planned


def outside_the_plan(
    scene: Scene, person: Person, week: Week, entries: Iterable[LogEntry]
) -> Iterator[tuple[LogEntry, Amounts]]:
    """Give extra work and work whose line is not in the programme now, with what it adds up to.

    Of a line that is gone and whose dose the programme keeps, all that was written is one account, counted as
    it was while the line stood; what else was written is counted by what the catalogue says of its exercise.
    """
    known = {one.ref: one for one in person.programme.retired_lines}
    accounts: dict[str, list[LogEntry]] = {}
    for entry in entries:
        accounts.setdefault(entry.line if entry.line in known else entry.id, []).append(entry)
    for account in accounts.values():
        last = max(account, key=lambda entry: entry.order)
        if all(entry.status in NOT_TRAINED for entry in account):
            continue
        exercise = scene.exercise(last.exercise) if last.exercise else None
        found = Amounts()
        if exercise is not None:
            work = _loose_work(person, week, last, exercise, known.get(last.line or ""))
            found = amounts(_done_of(work, account, as_written=last.line in known))
        minutes = last.minutes if last.line is None and last.minutes else 0.0
        yield last, found + Amounts(minutes=minutes)


def _done_of(work: Work, account: Sequence[LogEntry], *, as_written: bool) -> tuple[Portion, ...]:
    if as_written:
        return _line(work, account, otherwise="nothing_written", whole=None).done
    results = (result for entry in account for result in entry.results if result.mark != "unusual")
    return portions_of(work, results)


def done_before_it_went(
    person: Person, wholes: Iterable[LogEntry], written: Container[str | None]
) -> Iterator[LogEntry]:
    """Give the lines that are gone and were done as written by what was noted of their session as a whole.

    Args:
        person: the athlete.
        wholes: what was noted of sessions as a whole, the last word on each.
        written: the sessions of whose lines somebody wrote.
    """
    for whole in wholes:
        if whole.status != "done" or whole.session in written:
            continue
        for line in person.programme.retired_lines:
            if line.session == whole.session and line.first <= whole.revision <= line.last:
                about = {"line": line.ref, "exercise": line.exercise}
                yield whole.model_copy(update={**about, "effort": None, "minutes": None, "note": ""})


def _loose_work(
    person: Person, week: Week, entry: LogEntry, exercise: Exercise, gone: RetiredLine | None
) -> Work:
    """Give an exercise a line of its own, so that it is counted like any other."""
    line = _plain_line(exercise) if gone is None else as_it_stood(gone)
    session = Session(
        ref=entry.session or "outside", date=entry.date, start=time(0), minutes=0.0, minutes_available=0.0,
        slot=None, place="outside", role="neutral", prescriptions=(),
    )  # fmt: skip
    return Work(line, exercise, person, week, session)


def _plain_line(exercise: Exercise) -> Prescription:
    runs: tuple[Run, ...] = ("acceleration", "top_speed", "submaximal")
    run = next((name for name in runs if name == exercise.slot), None)
    timed = exercise.method in SPRINTS
    return Prescription(
        ref="outside", purpose="work", method=exercise.method, run=run if timed else None,
        exercise=exercise.ref, side=exercise.sides, sets=1, reps=1, minutes=0.0,
        distance_m=0.0 if timed else None,
    )  # fmt: skip
