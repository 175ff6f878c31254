"""The log of the invented squad: near what was expected, with made-up scatter from a fixed seed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from speedloom.cli._demo_luck import HURT, LIVED, gain, luck

if TYPE_CHECKING:
    from speedloom.training.log import Log, LogEntry
    from speedloom.training.programme import Prescription, Programme, Session

_SPACE = "5b0e3d0c-6c4f-5f0b-9d0a-2f4f5a2e7c10"
ASSISTANT = "assistant (invented)"
AWAY = {("kavya", 2): "illness", ("bea", 3): "illness", ("rosa", 5): "other", ("leilani", 6): "illness"}
"""Who missed a whole week, and why."""
RAIN = (LIVED, 3)
"""Week and weekday, Monday 0, of the evening on which rain came through the roof."""
EASED = ("astrid", 4)
"""Who did a gym evening of a week lighter than it was written."""
NOT_YET = "Not yet, says the coach"
FAST = frozenset({"unloaded_sprint", "resisted_sprint", "plyometric"})
Data = dict[str, Any]


def invented_log(programme: Programme, *, until: date) -> Log:
    """Make up what was written down of all sessions up to a day; every entry depends on its line alone."""
    from speedloom.training.log import Log

    zone = ZoneInfo(programme.timezone)
    entries = [
        entry
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        if session.date <= until
        for entry in _Evening(programme, own.athlete, week.number, session, zone).entries()
    ]
    entries.sort(key=lambda one: one.order)
    return Log(
        schema="speedloom.log/1",
        programme=programme.id,
        timezone=programme.timezone,
        entries=tuple(entries),
    )


class _Evening:
    """One athlete's session as it went."""

    def __init__(
        self, programme: Programme, athlete: str, week: int, session: Session, zone: ZoneInfo
    ) -> None:
        self.programme, self.athlete, self.week, self.session = programme, athlete, week, session
        self.begins = datetime.combine(session.date, session.start, tzinfo=zone)
        self.luck = luck("evening", athlete, week, session.date.weekday())

    def entries(self) -> Iterator[LogEntry]:
        """Write the evening down: who was not there, else line by line, and effort and minutes after it."""
        missed = AWAY.get((self.athlete, self.week))
        if missed is not None:
            yield self._entry(None, status="absent", reason=missed)
        elif (self.week, self.session.date.weekday()) == RAIN:
            note = "Rain came through the roof; the hall was closed"
            yield self._entry(None, status="skipped", reason="weather", note=note)
        else:
            yield from self._trained()

    def _trained(self) -> Iterator[LogEntry]:
        hurts = (self.athlete, self.week, self.session.date.weekday()) == (HURT, LIVED, 0)
        work = [line for line in self.session.prescriptions if line.purpose == "work"]
        left_out = [line for line in work if self._spared and line.method in FAST and not hurts]
        if left_out == work:
            yield self._entry(None, status="skipped", reason="pain", note=NOT_YET)
            return
        for line in work:
            results = list(_results(line, week=self.week, athlete=self.athlete))
            if hurts:
                note = "Right hamstring pulled at the third run"
                yield self._entry(line, status="stopped", reason="pain", results=results[:2], note=note)
                break
            yield self._line(line, results)
        if hurts:
            yield self._after(0.4, status="stopped", reason="pain")
        elif left_out:
            whole = sum(line.minutes for line in work) or 1.0
            part = 1.0 - sum(line.minutes for line in left_out) / whole
            yield self._after(part, status="modified", reason="pain")
        else:
            yield self._after(1.0, status="done")

    @property
    def _spared(self) -> bool:
        """Whether the athlete whose hamstring pulled leaves runs and jumps out, as she was told to."""
        return self.athlete == HURT and self.week >= LIVED

    def _line(self, line: Prescription, results: list[Data]) -> LogEntry:
        if self._spared and line.method in FAST:
            return self._entry(line, status="skipped", reason="pain", note=NOT_YET)
        eased = (self.athlete, self.week) == EASED and bool(line.load_kg) and line.distance_m is None
        if not eased:
            return self._entry(line, status="done", results=results)
        lighter = [one | {"load_kg": round((line.load_kg or 0) * 0.9 / 2.5) * 2.5} for one in results]
        return self._entry(line, status="modified", reason="other", results=lighter, note="Tired from exams")

    def _after(self, part: float, **how: str) -> LogEntry:
        """Write what the athlete says of the whole session."""
        hard = 2.5 + 3.5 * min(1.0, self.session.minutes / 75) + self.luck.gauss(0.0, 0.8)
        minutes = round(part * self.session.minutes * self.luck.gauss(1.03, 0.04))
        effort = float(min(9, max(2, round(hard))))
        return self._entry(None, by=self.athlete, effort=effort, minutes=float(minutes), **how)

    def _entry(self, line: Prescription | None, **fields: Any) -> LogEntry:  # noqa: ANN401 - an entry's values
        from speedloom.training.log import LogEntry, Result
        from speedloom.workflows.done_as_written import named_id

        lines = self.session.prescriptions
        before = lines[: lines.index(line) + 1] if line else lines
        spent = timedelta(minutes=sum(one.minutes for one in before) + (0 if line else 6))
        ref = line.ref if line else self.session.ref
        name = f"{self.programme.id}/{ref}/{self.session.date}"
        plain: Data = {
            "id": named_id(_SPACE, name), "at": self.begins + spent, "by": ASSISTANT,
            "revision": self.programme.revision.number, "athlete": self.athlete,
            "session": self.session.ref, "line": line.ref if line else None, "date": self.session.date,
            "exercise": line.exercise if line else None, "replaces": None, "reason": None, "timing": None,
            "clock": None, "behind_m": None, "surface": line.surface if line else None, "effort": None,
            "minutes": None, "note": "",
        }  # fmt: skip
        results = tuple(Result.model_validate(one) for one in fields.pop("results", ()))
        timed = _timed(line) if any(one.time_s is not None for one in results) else {}
        return LogEntry.model_validate(plain | timed | fields | {"results": results})


def _timed(line: Prescription | None) -> Data:
    if line is None or line.expect is None:
        return {}
    timing, kind, *behind = line.expect.clock.split("/")
    # Between two beams no start is needed, so none is named.
    return {
        "timing": timing,
        "clock": None if kind == "flying" else kind,
        "behind_m": float(behind[0]) if behind else None,
    }


def _results(line: Prescription, *, week: int, athlete: str) -> Iterator[Data]:
    """Make up the runs or sets of a line, near what was expected of them."""
    chance = luck("line", athlete, week, line.exercise, line.sets, line.reps)
    if line.distance_m is not None and line.method in {"unloaded_sprint", "resisted_sprint"}:
        yield from _runs(line, week=week, athlete=athlete)
        return
    for number in range(1, line.sets + 1):
        reps = line.reps if line.reps_to is None else min(line.reps_to, line.reps + week // 2)
        left = None if line.rir is None else max(0, round(line.rir + chance.gauss(0.4, 0.7)))
        contacts = None if line.contacts is None else line.contacts // line.sets
        yield {"set": number, "load_kg": line.load_kg, "reps": reps, "rir": left, "contacts": contacts}


def _runs(line: Prescription, *, week: int, athlete: str) -> Iterator[Data]:
    chance = luck("runs", athlete, week, line.exercise, line.distance_m)
    gained = gain(athlete) * (week - 1) / (LIVED - 1)
    # The gates stand up on some evenings only; elsewhere it is counted that the run was made.
    timed = line.expect is not None and chance.random() < 0.7  # noqa: PLR2004
    day = 1.0 - gained + chance.gauss(0.0, 0.004)
    for number in range(line.sets * line.reps):
        shown = (line.expect.time_s if line.expect else 0.0) * (day + chance.gauss(0.0, 0.005))
        yield {
            "set": number // line.reps + 1,
            "rep": number % line.reps + 1,
            "load_kg": line.load_kg,
            "distance_m": line.distance_m,
            "time_s": round(shown, 2) if timed else None,
        }
