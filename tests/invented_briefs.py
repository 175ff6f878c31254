"""Briefs made up for tests of the planner: plain dictionaries to change, and the document they resolve to."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import Any

from speedloom.checking.finding import Findings
from speedloom.planning.clash import Clash
from speedloom.science.mechanics.sprint import Runner, time_to_distance
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Prescription, Programme, Session, Week
from speedloom.training.rule import load_rulebook
from speedloom.training.words import METHODS
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.plan_programme import plan_programme
from speedloom.workflows.resolve_brief import resolve_brief

RULEBOOK, CATALOGUE = load_rulebook(), load_catalogue()
Data = dict[str, Any]
FLAT = {"straight_m": 120, "run_out_m": 30, "lanes": 6}
PLATES = [[20.0, 6], [10.0, 2], [5.0, 2], [2.5, 2], [1.25, 2]]


def athlete(ref: str = "ada", *, level: str = "advanced", **more: object) -> Data:
    """Make an athlete; lifts make her squat about 131 kg once."""
    return {
        "ref": ref,
        "born": "2000-01-01",
        "sex": "female",
        "mass_kg": 65.0,
        "height_m": 1.72,
        "level": dict.fromkeys(METHODS, level),
        "lifts": [{"date": "2026-01-08", "exercise": "back_squat", "load_kg": 120.0, "reps": 3, "rir": 1}],
    } | more


def bar(kind: str = "barbell", *, empty: float = 20.0) -> Data:
    """Make two bars of a kind in the gym."""
    return {"ref": "bar", "kind": kind, "place": "gym", "count": 2, "empty_kg": empty, "plates_kg": PLATES}


def slot(ref: str, day: str, place: str, *, minutes: int = 90, start: str = "17:00:00") -> Data:
    """Make a slot."""
    return {"ref": ref, "day": day, "start": start, "minutes": minutes, "place": place}


def brief(*athletes: Data, end: str = "2026-04-05", **more: object) -> Data:
    """Make a brief of two track and two gym days a week, twelve weeks from Monday 12 January 2026."""
    return {
        "schema": "speedloom.brief/1",
        "name": "Made up for a test",
        "timezone": "Europe/Amsterdam",
        "start": "2026-01-12",
        "end": end,
        "goal": {"kind": "sprint_time", "distance_m": 40},
        "phases": {"mesocycle_weeks": [4, 4, 4], "deload": "last", "taper_days": 0},
        "places": [
            {"ref": "gym", "kind": "gym"},
            {"ref": "track", "kind": "track", "surface": "tartan", **FLAT},
        ],
        "kit": [
            bar(),
            {
                "ref": "sled",
                "kind": "sled",
                "place": "track",
                "empty_kg": 8.0,
                "plates_kg": [[20.0, 4], [10.0, 4], [5.0, 4], [2.5, 4]],
                "friction": {"value": 0.38, "se": 0.02},
            },
        ],
        "slots": [
            slot("mon", "monday", "track"),
            slot("tue", "tuesday", "gym", minutes=75),
            slot("thu", "thursday", "track"),
            slot("fri", "friday", "gym", minutes=75),
        ],
        "athletes": list(athletes) or [athlete()],
    } | more  # fmt: skip


def trial(
    ref: str = "ada",
    *,
    f0: float = 8.0,
    v0: float = 9.4,
    mass: float = 65.0,
    clock: str = "movement",
    gates: tuple[float, ...] = (5, 10, 20, 30, 40),
) -> Data:
    """Make a timed run of somebody with this force and speed."""
    runner = Runner(f0, v0, mass, 0.25)
    behind = 0.5 if clock == "behind" else 0.0
    late = 0.2 if clock == "unknown" else 0.0
    start = float(time_to_distance(runner, behind)) if behind else 0.0
    times = [round(float(time_to_distance(runner, gate + behind)) - start + late, 3) for gate in gates]
    splits = [{"distance_m": gate, "time_s": time} for gate, time in zip(gates, times, strict=True)]
    return {
        "athlete": ref,
        "date": "2026-01-08",
        "trial": 1,
        "timing": "gates",
        "clock": clock,
        "behind_m": behind or None,
        "start": "standing",
        "surface": "tartan",
        "place": "track",
        "splits": splits,
    }


def trials_of(data: Data) -> list[Data]:
    """Make one timed run for each athlete of a brief."""
    return [trial(one["ref"], mass=one.get("mass_kg") or 65.0) for one in data["athletes"]]


def resolved(data: Data, trials: list[Data] | None = None) -> ResolvedBrief:
    """Resolve a brief with its timed runs; one run an athlete where none are given. Traces have `points`."""
    timed = trials_of(data) if trials is None else trials
    kinds = {"traces": [one for one in timed if "points" in one]}
    kinds["trials"] = [one for one in timed if "points" not in one]
    measurements = Measurements.model_validate_json(json.dumps(kinds))
    known = Brief.model_validate_json(json.dumps(data))
    return resolve_brief(known, measurements, rulebook=RULEBOOK, catalogue=CATALOGUE)


def outcome(data: Data, trials: list[Data] | None = None) -> Programme | Clash:
    """Plan a brief."""
    return plan_programme(resolved(data, trials), rulebook=RULEBOOK, catalogue=CATALOGUE)


def planned(data: Data, trials: list[Data] | None = None) -> Programme:
    """Plan a brief that has a programme."""
    result = outcome(data, trials)
    if isinstance(result, Clash):
        raise TypeError(result)
    return result


def clash(data: Data, trials: list[Data] | None = None) -> Clash:
    """Plan a brief that has none."""
    result = outcome(data, trials)
    if isinstance(result, Programme):
        raise TypeError(result.id)
    return result


def findings(programme: Programme) -> Findings:
    """Check a programme against its own brief."""
    return check_programme(programme, brief=None, rulebook=RULEBOOK, catalogue=CATALOGUE)


def changed(data: Data, change: Callable[[Data], object]) -> Data:
    """Copy a brief and change the copy."""
    copy = deepcopy(data)
    change(copy)
    return copy


def weeks(programme: Programme, ref: str | None = None) -> tuple[Week, ...]:
    """Give the weeks of an athlete, the first one's where none is named."""
    return next(one.weeks for one in programme.programmes if ref in {None, one.athlete})


def sessions(programme: Programme, ref: str | None = None) -> list[Session]:
    """Give the sessions of an athlete in order."""
    return [session for week in weeks(programme, ref) for session in week.sessions]


def lines(programme: Programme, ref: str | None = None, **fields: object) -> Iterator[Prescription]:
    """Give the lines of an athlete whose fields have these values."""
    for session in sessions(programme, ref):
        for line in session.prescriptions:
            if all(getattr(line, name) == value for name, value in fields.items()):
                yield line


def text(programme: Programme) -> str:
    """Write a programme as its file holds it."""
    return canonical(programme)
