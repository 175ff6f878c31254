"""Gentle questions about a log: values nobody expects are kept and marked, and change no estimate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from speedloom.science.mechanics.plausible import fastest_known_time
from speedloom.training.log import Log, LogEntry, Result
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.training.rule import Rulebook
from speedloom.workflows.logged_runs import by_repetition, gates_of, not_later
from speedloom.workflows.standing_log import StandingEntry, StandingLog, placed_entries, standing_entries

Why = Literal[
    "faster_than_anyone",
    "faster_than_expected",
    "slower_than_expected",
    "slower_than_a_walk",
    "time_is_a_load",
    "gate_not_later",
    "load_is_a_time",
    "load_light",
    "load_heavy",
    "load_on_a_run",
    "load_most",
    "distance_short",
    "distance_long",
    "reps_many",
    "contacts_many",
    "rir_many",
    "minutes_many",
    "marked",
]
RULE = "log_questions"
FASTEST = ("graubner_2011", "second-hand")
"""Where the limit of `fastest_known_time` is from."""


@dataclass(frozen=True)
class Question:
    """One value that nobody expects: where it stands, the limit it passes, and where the limit is from."""

    entry: LogEntry
    result: Result | None
    field: str
    value: float
    why: Why
    limit: float | None = None
    written: float | None = None
    source: str | None = None
    mark: str | None = None


def questions(
    standing: StandingLog, *, rulebook: Rulebook, more_to_come: bool = False
) -> tuple[Question, ...]:
    """Ask about every unusual value of the entries that stand, in their order.

    Args:
        standing: the entries.
        rulebook: the numbers beyond which is asked.
        more_to_come: whether they are sent one by one: then a time at a shorter distance may be the first
            gate of its run, and nobody can say yet that the run was short.
    """
    beside = _results_by_line(one.entry for one in standing.entries)
    asked = (_Asker(one, rulebook, beside, more_to_come).ask() for one in standing.entries)
    return tuple(question for each in asked for question in each)


def with_marks(log: Log, programme: Programme, *, rulebook: Rulebook, more_to_come: bool = False) -> Log:
    """Mark every unusual value of a log that was just read; the values stay as they were typed.

    Args:
        log: what was read.
        programme: what it is about.
        rulebook: the numbers beyond which a value is marked.
        more_to_come: as `questions` has it.
    """
    beside = _results_by_line(standing_entries(log.entries))
    placed = placed_entries(log, programme)
    asked = ((one, tuple(_Asker(one, rulebook, beside, more_to_come).ask())) for one in placed)
    return log.model_copy(update={"entries": tuple(_marked(one.entry, found) for one, found in asked)})


Beside = Mapping[tuple[object, ...], tuple[Result, ...]]
"""What stands of each athlete's line or exercise on a day, whoever wrote it and in however many entries."""


def _results_by_line(entries: Iterable[LogEntry]) -> Beside:
    found: dict[tuple[object, ...], tuple[Result, ...]] = {}
    for entry in entries:
        found[_work(entry)] = (*found.get(_work(entry), ()), *entry.results)
    return found


def _work(entry: LogEntry) -> tuple[object, ...]:
    return (entry.athlete, entry.date, entry.line or entry.exercise)


def _marked(entry: LogEntry, asked: Sequence[Question]) -> LogEntry:
    if not asked:
        return entry
    unusual = [question.result for question in asked]
    results = tuple(
        result.model_copy(update={"mark": "unusual"}) if any(result is other for other in unusual) else result
        for result in entry.results
    )
    mark = "unusual" if None in unusual else entry.mark
    return entry.model_copy(update={"results": results, "mark": mark})


@dataclass(frozen=True)
class _Asker:
    """Asks about one entry."""

    placed: StandingEntry
    rulebook: Rulebook
    beside: Beside = field(default_factory=dict)
    more_to_come: bool = False

    def ask(self) -> Iterator[Question]:
        for result in self.placed.entry.results:
            found = [
                question
                for ask in (self._time, self._load, self._distance, self._counts)
                for question in ask(result)
            ]
            yield from found
            if result.mark == "unusual" and not found:
                yield from self._only_marked(result)
        yield from self._minutes(self.placed.session)

    @cached_property
    def _gates(self) -> Mapping[tuple[int, int], tuple[Result, ...]]:
        """The gates of each run with several, nearest first; of this entry, else of all about its line."""
        own = by_repetition(self.placed.entry.results)
        those = by_repetition(self.beside.get(_work(self.placed.entry), ()))
        return {place: gates_of(own[place]) or gates_of(those.get(place, ())) for place in own}

    def _gates_of(self, result: Result) -> tuple[Result, ...]:
        gates = self._gates[result.set, result.rep or 0]
        return gates if result in gates else ()

    @property
    def _line(self) -> Prescription | None:
        return self.placed.line

    def _number(self, name: str) -> float:
        return self.rulebook.number(RULE, name)

    def _question(
        self,
        result: Result | None,
        field: str,
        why: Why,
        *,
        limit: float,
        number: str | tuple[str | None, str],
        written: float | None = None,
    ) -> Question:
        origin = self.rulebook.mark_of(RULE, number) if isinstance(number, str) else number
        value = float(getattr(result or self.placed.entry, field))
        return Question(self.placed.entry, result, field, value, why, limit, written, *origin)

    def _time(self, result: Result) -> Iterator[Question]:
        time, line = result.time_s, self._line
        if time is None:
            return
        if line is not None and line.load_kg is not None and time == line.load_kg:
            yield self._question(result, "time_s", "time_is_a_load", limit=line.load_kg, number="time_slower")
            return
        if result in not_later(gates := self._gates_of(result)):
            limit = max(gate.time_s or 0.0 for gate in gates[: gates.index(result)])
            yield self._question(result, "time_s", "gate_not_later", limit=limit, number=(None, "computed"))
            return
        fastest, origin = self._fastest(result)
        if fastest is not None and time < fastest:
            yield self._question(result, "time_s", "faster_than_anyone", limit=fastest, number=origin)
            return
        yield from self._beside_expected(result, time)

    def _beside_expected(self, result: Result, time: float) -> Iterator[Question]:
        line = self._line
        known = line.expect if line else None
        same = line is not None and result.distance_m in (None, line.distance_m)
        if known is not None and same and line is not None:
            # A lighter load than written cannot make slower, nor a heavier one faster: then nothing is said.
            load, written = result.load_kg or 0.0, line.load_kg or 0.0
            fast, slow = (known.time_s * self._number(name) for name in ("time_faster", "time_slower"))
            if time < fast and load >= written:
                yield self._question(result, "time_s", "faster_than_expected", limit=fast,
                                     number="time_faster", written=known.time_s)  # fmt: skip
            elif time > slow and load <= written:
                yield self._question(result, "time_s", "slower_than_expected", limit=slow,
                                     number="time_slower", written=known.time_s)  # fmt: skip
        elif result.distance_m and time > result.distance_m / self._number("slowest_mps"):
            limit = result.distance_m / self._number("slowest_mps")
            yield self._question(result, "time_s", "slower_than_a_walk", limit=limit, number="slowest_mps")

    def _fastest(self, result: Result) -> tuple[float | None, tuple[str | None, str]]:
        """Give the shortest possible time and where it is from; a start nobody knows counts as flying."""
        entry, line = self.placed.entry, self._line
        if not result.distance_m:
            return None, FASTEST
        flying = line is not None and line.run_in_m is not None
        if flying or entry.clock in (None, "unknown"):
            origin = self.rulebook.mark_of("plausible_profile", "vmax_mps")
            return result.distance_m / self.rulebook.number("plausible_profile", "vmax_mps"), origin
        return float(fastest_known_time(result.distance_m, behind_m=entry.behind_m or 0.0)), FASTEST

    def _load(self, result: Result) -> Iterator[Question]:
        load, line = result.load_kg, self._line
        if not load:
            return
        written = line.load_kg if line else None
        if not written:
            run = line is not None and line.method == "unloaded_sprint"
            if run or load > self._number("load_most_kg"):
                limit = 0.0 if run else self._number("load_most_kg")
                why: Why = "load_on_a_run" if run else "load_most"
                yield self._question(result, "load_kg", why, limit=limit, number="load_most_kg")
            return
        light, heavy = (written * self._number(name) for name in ("load_lighter", "load_heavier"))
        if load < light:
            said: Why = "load_is_a_time" if self._reads_as_time(load) else "load_light"
            yield self._question(result, "load_kg", said, limit=light, number="load_lighter", written=written)
        elif load > heavy:
            yield self._question(
                result, "load_kg", "load_heavy", limit=heavy, number="load_heavier", written=written
            )

    def _reads_as_time(self, value: float) -> bool:
        known = self._line.expect if self._line else None
        if known is None:
            return False
        share = value / known.time_s
        return self._number("time_faster") <= share <= self._number("time_slower")

    def _distance(self, result: Result) -> Iterator[Question]:
        written = self._line.distance_m if self._line else None
        gates = self._gates_of(result)
        if result.distance_m is None or not written or (gates and result != gates[-1]):
            # A gate before the last one is on the way, not a run of its own.
            return
        if self.more_to_come and result.time_s is not None and result.distance_m < written:
            return
        short, long = (written * self._number(name) for name in ("distance_shorter", "distance_longer"))
        if result.distance_m < short:
            yield self._question(result, "distance_m", "distance_short", limit=short,
                                 number="distance_shorter", written=written)  # fmt: skip
        elif result.distance_m > long:
            yield self._question(result, "distance_m", "distance_long", limit=long,
                                 number="distance_longer", written=written)  # fmt: skip

    def _counts(self, result: Result) -> Iterator[Question]:
        line = self._line
        reps = (line.reps_to or line.reps) if line else None
        contacts = line.contacts if line else None
        more = self._number("reps_more")
        if result.reps is not None and reps and result.reps > more * reps:
            yield self._question(result, "reps", "reps_many", limit=more * reps, number="reps_more",
                                 written=reps)  # fmt: skip
        if result.contacts is not None and contacts and result.contacts > more * contacts:
            yield self._question(result, "contacts", "contacts_many", limit=more * contacts,
                                 number="reps_more", written=contacts)  # fmt: skip
        most = self._number("rir_most")
        if result.rir is not None and result.rir > most:
            yield self._question(result, "rir", "rir_many", limit=most, number="rir_most")

    def _minutes(self, session: Session | None) -> Iterator[Question]:
        entry = self.placed.entry
        if entry.minutes is None or entry.line is not None:
            return
        number = "minutes_more" if session else "minutes_most"
        limit = self._number("minutes_more") * session.minutes if session else self._number("minutes_most")
        if entry.minutes > limit:
            yield self._question(None, "minutes", "minutes_many", limit=limit, number=number,
                                 written=session.minutes if session else None)  # fmt: skip
        elif entry.mark == "unusual":
            yield Question(entry, None, "minutes", entry.minutes, "marked")

    def _only_marked(self, result: Result) -> Iterator[Question]:
        fields = ("time_s", "load_kg", "reps", "contacts", "distance_m", "rir")
        field = next((name for name in fields if getattr(result, name) is not None), None)
        if field is not None:
            yield Question(self.placed.entry, result, field, float(getattr(result, field)), "marked")
