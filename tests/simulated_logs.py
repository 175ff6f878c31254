"""Logs of athletes whose truth is known: what they ran, lifted, left out and mistyped. Deterministic."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from json import dumps
from typing import Any
from uuid import NAMESPACE_OID, uuid5
from zoneinfo import ZoneInfo

from simulated_athletes import Person, Truth, drawer, true_time, weeks_since
from speedloom.training.log import Log
from speedloom.training.programme import Prescription, Programme, Session

INDOORS = frozenset({"hall", "gym"})
Data = dict[str, Any]
NOTHING: Data = {
    "rep": None, "load_kg": None, "distance_m": None, "time_s": None, "reps": None, "rir": None,
    "contacts": None, "mark": None,
}  # fmt: skip


@dataclass(frozen=True)
class Absence:
    """Days on which an athlete did not come, both ends included."""

    athlete: str
    first: date
    last: date
    reason: str = "illness"


@dataclass(frozen=True)
class Pain:
    """A session that pain ended on a day, and absence until another (included)."""

    athlete: str
    day: date
    until: date
    note: str = "Left calf grabbed, stopped at once"


@dataclass(frozen=True)
class Habits:
    """How a squad writes things down: shares of lines, or of sessions for `silent`."""

    timed: float = 0.8
    forgotten: float = 0.04
    silent: float = 0.05
    skipped: float = 0.02
    lighter: float = 0.04
    mistyped: float = 0.03
    unusual: float = 0.01
    by: str = "assistant-1"


PERFECT = Habits(timed=1.0, forgotten=0, silent=0, skipped=0, lighter=0, mistyped=0, unusual=0)
"""Everything is done, timed and written down as it was."""


@dataclass(frozen=True)
class _World:
    programme: Programme
    seed: int
    truth: Truth
    habits: Habits
    rain: Collection[date]
    outdoors: frozenset[str]
    zone: ZoneInfo

    def luck(self, *key: object) -> Any:  # noqa: ANN401 — numpy's generator
        return drawer(self.seed, *key)


def simulate_log(
    programme: Programme,
    *,
    weeks: range,
    seed: int,
    truth: Truth,
    absences: Sequence[Absence] = (),
    rain: Collection[date] = (),
    pain: Sequence[Pain] = (),
    habits: Habits | None = None,
) -> Log:
    """Log what athletes of a known truth did in some weeks of a programme.

    An entry depends on the seed and on what it is about alone: more weeks, other athletes or a later
    revision leave the rest as it was. Athletes without a truth are not logged.

    Args:
        programme: the revision that was trained by.
        weeks: numbers of the weeks, such as range(1, 5).
        seed: decides all that is drawn.
        truth: everybody's true numbers.
        absences: who did not come when.
        rain: days on which nothing outdoors took place.
        pain: sessions that pain ended.
        habits: how things are written down; None for ordinary ones.
    """
    places = programme.brief.content.places if programme.brief.content else ()
    outdoors = frozenset(place.ref for place in places if place.kind not in INDOORS)
    zone = ZoneInfo(programme.timezone)
    world = _World(programme, seed, truth, habits or Habits(), rain, outdoors, zone)
    entries: list[Data] = []
    for own in programme.programmes:
        if own.athlete not in truth.people:
            continue
        away = [*absences, *(Absence(one.athlete, one.day + timedelta(1), one.until, "pain") for one in pain)]
        for week in own.weeks:
            for session in week.sessions if week.number in weeks else ():
                hurt = next((p for p in pain if (p.athlete, p.day) == (own.athlete, session.date)), None)
                missed = next(
                    (a for a in away if a.athlete == own.athlete and _during(a, session.date)), None
                )
                entries += _session(world, own.athlete, session, missed, hurt)
    entries.sort(key=lambda one: (one["at"], one["id"]))
    content = {"schema": "speedloom.log/1", "programme": programme.id, "timezone": programme.timezone}
    return Log.model_validate_json(dumps({**content, "entries": entries}))


def _during(absence: Absence, day: date) -> bool:
    return absence.first <= day <= absence.last


def _session(
    world: _World, athlete: str, session: Session, missed: Absence | None, hurt: Pain | None
) -> Iterator[Data]:
    whole = _Writer(world, athlete, session)
    if missed is not None:
        yield whole.entry(None, status="absent", reason=missed.reason, by=world.habits.by)
    elif session.date in world.rain and session.place in world.outdoors:
        note = "Heavy rain, ground closed"
        yield whole.entry(None, status="skipped", reason="weather", by=world.habits.by, note=note)
    else:
        yield from _trained(world, whole, hurt)


def _trained(world: _World, writer: _Writer, hurt: Pain | None) -> Iterator[Data]:
    session = writer.session
    work = [line for line in session.prescriptions if line.purpose == "work"]
    breaks = next((one for one in work if _is_run(one)), work[0] if work else None) if hurt else None
    over = False
    for line in work:
        if over:
            yield writer.entry(line, status="skipped", reason="pain")
        elif line is breaks:
            over = True
            results = list(_results(world, writer, line))[:2]
            note = hurt.note if hurt else ""
            yield writer.entry(line, status="stopped", reason="pain", results=results, note=note)
        else:
            yield from _line(world, writer, line)
    yield from _whole(world, writer, "stopped" if over else "done")


def _line(world: _World, writer: _Writer, line: Prescription) -> Iterator[Data]:
    habits, luck = world.habits, world.luck(writer.athlete, line.ref, "habit")
    forgotten, skipped, lighter, mistyped, unusual = luck.random(5)
    if forgotten < habits.forgotten:
        return
    if skipped < habits.skipped:
        yield writer.entry(line, status="skipped", reason="time", note="Hall closed early")
        return
    less = lighter < habits.lighter and bool(line.load_kg) and not _is_run(line)
    results = list(_results(world, writer, line, load_share=0.9 if less else 1.0))
    short = sum(result["reps"] or 0 for result in results) < line.sets * line.reps and not _is_run(line)
    status = "modified" if short or less else "done"
    done = writer.entry(line, status=status, reason="other" if less else None, results=results)
    if mistyped < habits.mistyped and results:
        slip = {**done, "id": writer.key(line, "slip"), "results": _slipped(results, by=1.1)}
        yield slip
        at = (datetime.fromisoformat(done["at"]) + timedelta(hours=1)).isoformat()
        yield {**done, "at": at, "replaces": slip["id"], "note": "Mistyped before"}
    elif unusual < habits.unusual and results:
        yield {**done, "results": [{**one, "mark": "unusual"} for one in _slipped(results, by=10.0)]}
    else:
        yield done


def _slipped(results: Sequence[Data], *, by: float) -> list[Data]:
    """Mistype what was measured: a point in the wrong place, or a digit."""
    name = next((name for name in ("time_s", "load_kg") if results[0][name] is not None), "reps")
    return [
        {**one, name: round(one[name] * by, 3) if name != "reps" else int(one[name] * by)}
        if one[name] is not None
        else one
        for one in results
    ]


def _whole(world: _World, writer: _Writer, status: str) -> Iterator[Data]:
    luck, spread = world.luck(writer.athlete, writer.session.ref, "whole"), world.truth.spread
    silent, (tired, longer) = luck.random(), luck.standard_normal(2)
    if silent < world.habits.silent:
        return
    full = 0.5 if status == "stopped" else 1.0
    hard = 2.0 + 4.0 * full * min(1.0, writer.session.minutes / 75.0)
    effort = float(min(10.0, max(0.0, round(hard + spread.effort * tired))))
    minutes = float(round(full * writer.session.minutes * (1.0 + spread.minutes * longer)))
    reason = "pain" if status == "stopped" else None
    yield writer.entry(None, status=status, reason=reason, by=writer.athlete, effort=effort, minutes=minutes)


def _is_run(line: Prescription) -> bool:
    return line.distance_m is not None and line.method in {"unloaded_sprint", "resisted_sprint"}


def _results(
    world: _World, writer: _Writer, line: Prescription, *, load_share: float = 1.0
) -> Iterator[Data]:
    if _is_run(line):
        yield from _runs(world, writer, line)
        return
    load = None if line.load_kg is None else round(line.load_kg * load_share / 1.25) * 1.25
    person, luck = writer.person(), world.luck(writer.athlete, line.ref, "sets")
    day = world.luck(writer.athlete, writer.session.date, "strength").standard_normal()
    stronger = 1.0 + world.truth.spread.lift_day * float(day)
    can = person.repetitions(line.exercise, load, stronger=stronger) if load else None
    for number in range(1, line.sets + 1):
        done = line.reps if can is None else max(0, min(line.reps, int(can)))
        judged = (
            None if can is None else can - done + world.truth.spread.reserve_reps * luck.standard_normal()
        )
        rir = None if judged is None or line.method == "power" else max(0, min(20, round(judged)))
        contacts = None if line.contacts is None else line.contacts // line.sets
        yield {"set": number, **NOTHING, "load_kg": load, "distance_m": line.distance_m, "reps": done,
               "rir": rir, "contacts": contacts}  # fmt: skip


def _runs(world: _World, writer: _Writer, line: Prescription) -> Iterator[Data]:
    luck, spread = world.luck(writer.athlete, line.ref, "runs"), world.truth.spread
    day = float(world.luck(writer.athlete, writer.session.date, "speed").standard_normal())
    clock = writer.clock(line)
    timed = clock is not None and luck.random() < world.habits.timed
    shown = 0.0
    if clock is not None:
        friction = world.truth.friction.get(line.kit or "", 0.0)
        faster = 1.0 + spread.day * day
        shown = true_time(writer.person(), line, clock, friction=friction, faster=faster)
    noise = spread.timing_s.get((clock or "").partition("/")[0], 0.0)
    for number in range(line.sets * line.reps):
        wobble, error = luck.standard_normal(2)
        time = round(shown * (1.0 + spread.repetition * float(wobble)) + noise * float(error), 3)
        place = {"set": number // line.reps + 1, **NOTHING, "rep": number % line.reps + 1}
        yield {**place, "load_kg": line.load_kg, "distance_m": line.distance_m,
               "time_s": max(0.01, time) if timed else None}  # fmt: skip


@dataclass(frozen=True)
class _Writer:
    """Writes entries about one session of one athlete."""

    world: _World
    athlete: str
    session: Session

    def person(self) -> Person:
        """Give the athlete as they truly are on the day."""
        return self.world.truth.people[self.athlete].on(weeks_since(self.world.programme, self.session.date))

    def clock(self, line: Prescription) -> str | None:
        """Say how a run is timed: as expected, else as in the first test; None where nobody knows."""
        if line.expect is not None:
            return line.expect.clock
        brief = self.world.programme.brief.content
        for trial in brief.measurements.trials if brief else ():
            if trial.athlete == self.athlete:
                behind = f"/{trial.behind_m:g}" if trial.clock == "behind" else ""
                return f"{trial.timing}/{'flying' if line.run_in_m else f'{trial.clock}{behind}'}"
        return None

    def key(self, line: Prescription | None, what: str = "entry") -> str:
        """Make an id from what an entry is about."""
        about = (self.world.seed, self.world.programme.id, line.ref if line else self.session.ref, what)
        return str(uuid5(NAMESPACE_OID, "/".join(map(str, about))))

    def entry(self, line: Prescription | None, **fields: Any) -> Data:  # noqa: ANN401 — an entry's values
        """Make an entry about a line, or about the whole session."""
        start = datetime.combine(self.session.date, self.session.start, tzinfo=self.world.zone)
        lines = self.session.prescriptions
        before = lines[: lines.index(line) + 1] if line else lines
        at = start + timedelta(minutes=sum(one.minutes for one in before) + (0 if line else 5))
        plain: Data = {
            "by": self.world.habits.by, "effort": None, "minutes": None, "note": "", "reason": None,
            "replaces": None, "results": [], "status": "done", **_no_clock(),
        }  # fmt: skip
        entry = {
            **plain, "id": self.key(line), "at": at.isoformat(), "athlete": self.athlete,
            "revision": self.world.programme.revision.number, "session": self.session.ref,
            "line": line.ref if line else None, "date": self.session.date.isoformat(),
            "exercise": line.exercise if line else None, **fields,
        }  # fmt: skip
        timed = any(one["time_s"] is not None for one in entry["results"])
        clock = self.clock(line) if line and timed else None
        return {**entry, **(_clock_fields(clock) if clock else {}), "surface": line.surface if line else None}


def _no_clock() -> Data:
    return {"timing": None, "clock": None, "behind_m": None, "surface": None}


def _clock_fields(clock: str) -> Mapping[str, Any]:
    timing, kind, *behind = clock.split("/")
    # Between two beams no start is needed, so none is named.
    started = None if kind == "flying" else kind
    return {"timing": timing, "clock": started, "behind_m": float(behind[0]) if behind else None}
