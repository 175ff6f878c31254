"""What a plan says of data that were missing, for the tests beside this file."""

from __future__ import annotations

import json
import math
from typing import Any

from invented_briefs import FLAT, Data, athlete, brief, findings, planned
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Prescription, Programme
from speedloom.wording.summaries import plan_summary

FIVE_WEEKS = "2026-02-15"
FLYING = [{"distance_m": 20.0, "time_s": 2.1}]


def said(programme: Programme) -> str:
    """Give what `plan` prints."""
    return plan_summary(programme, findings=findings(programme))


def plain(**more: object) -> Data:
    """Make five weeks for one athlete, into which something is missing."""
    return brief(athlete(), end=FIVE_WEEKS, **more)


def plan(data: Data, trials: list[Data] | None = None) -> Programme:
    """Plan, and hold the check to finding nothing hard in what came."""
    programme = planned(data, trials)
    assert findings(programme).hard() == ()
    return programme


def runs(programme: Programme) -> list[Prescription]:
    """Give the runs of a programme, build-ups left out."""
    return [line for line in work(programme) if line.run in {"acceleration", "top_speed"}]


def work(programme: Programme, **fields: object) -> list[Prescription]:
    """Give the working lines whose fields have these values."""
    return [
        line
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.purpose == "work" and all(getattr(line, name) == value for name, value in fields.items())
    ]


def nodes(programme: Programme, quantity: str) -> list[Any]:
    """Give the derivations of a quantity."""
    return [node for node in programme.basis.values() if node.quantity == quantity]


def measured(*tests: Data) -> Measurements:
    """Give trials, and traces that have `points`, as a tests file's reader does."""
    kinds = {"traces": [one for one in tests if "points" in one]}
    kinds["trials"] = [one for one in tests if "points" not in one]
    return Measurements.model_validate_json(json.dumps(kinds))


def trace(vmax: float = 9.0, tau: float = 1.15, *, steps_mps: float = 0.1, every_s: float = 0.05) -> Data:
    """Make a radar trace of five seconds: a late start, and the steps of a runner."""
    points = []
    for tick in range(int(5 / every_s)):
        time = round(tick * every_s, 3)
        moving = (
            vmax * -math.expm1(-(time - 0.4) / tau) + steps_mps * math.sin(26 * time) if time > 0.4 else 0.1
        )
        points.append({"time_s": time, "speed_mps": round(max(0.0, moving), 3)})
    return {"athlete": "ada", "date": "2026-01-08", "trial": 1, "timing": "radar", "points": points}


def without(data: Data, kind: str) -> Data:
    """Take a kind of kit out of a brief."""
    return data | {"kit": [one for one in data["kit"] if one["kind"] != kind]}


def hall(straight_m: float) -> list[Data]:
    """Make a gym and a hall of this length."""
    straight = {"straight_m": straight_m, "run_out_m": 8, "lanes": 4}
    return [
        {"ref": "gym", "kind": "gym"},
        {"ref": "track", "kind": "hall", "surface": "wood", **FLAT, **straight},
    ]
