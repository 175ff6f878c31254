"""A small good programme, written here by hand as plain JSON: three athletes, six weeks, three days a week.

Every number is the coach's own (nodes by "coach"), but the loads of the squat, which are derived from a
lifted single. It imports nothing of the package: what the check says about it is the check's alone.
"""

from __future__ import annotations

import copy
import math
from datetime import date, timedelta
from functools import cache

from unit.checking.programme_edit import NUMBERS, Json, line_of, new_node, put, recount, session_of

MONDAY = date(2026, 1, 5)
KINDS = ("introduction", "loading", "loading", "deload", "loading", "loading")
RUNS = (3, 4, 4, 3, 6, 6)
SLEDS = (2, 2, 2, 2, 4, 4)
TOP_SPEED = (0, 2, 3, 2, 3, 2)
POWER = (2, 2, 3, 2, 3, 3)
MAIN = (2, 3, 3, 2, 4, 4)
GENERAL = (1, 2, 2, 1, 3, 3)
SQUAT_KG = {"ada": 90.0, "bo": 170.0}
SLED_KG = {"ada": (27.5, 0.25), "bo": (45.0, 0.25), "cy": (15.0, 0.2)}
FIELD_MINUTES = {"ada": 22.0, "bo": 20.0, "cy": 20.0}

BLANK: Json = {
    "run": None, "side": "both", "pair": None, "reps_to": None, "distance_m": None, "run_in_m": None,
    "kit": None,
    "load_kg": None, "added_kg": None, "share_1rm": None, "rir": None, "decrement": None, "contacts": None,
    "effort": None, "hold_s": None, "height_m": None, "grade": None, "path": None, "start": None,
    "surface": None,
    "cue": "", "rest_reps_s": None, "rest_s": None, "expect": None, "stop_rule": {"kind": "technique",
    "value": None},
    "locked": [], "purpose": "work", "sets": 1, "reps": 1,
}  # fmt: skip


# -------------------------------------------------------------------------------- the lines
def _line(method: str, exercise: str, **fields: object) -> Json:
    return BLANK | {"method": method, "exercise": exercise} | fields


def _warm_up(minutes: float, exercise: str) -> Json:
    return _line("technique", exercise, purpose="warm_up", minutes=minutes, stop_rule=None)


def _build_up() -> Json:
    return _line(
        "unloaded_sprint", "build_up_run", purpose="build_up", run="submaximal", reps=4, distance_m=20.0,
        effort=0.9,
        rest_reps_s=75, minutes=6.0, stop_rule=None,
    )  # fmt: skip


def _acceleration(reps: int, distance: float, *, easy: bool) -> Json:
    return _line(
        "unloaded_sprint", "acceleration_run", run="acceleration", reps=reps, distance_m=distance,
        start="standing",
        effort=0.9 if easy else None, rest_reps_s=120, path="straight", minutes=2.0 * reps + 2.0,
        stop_rule={"kind": "technique", "value": None},
    )  # fmt: skip


def _sled(athlete: str, reps: int) -> Json:
    load, decrement = SLED_KG[athlete]
    return _line(
        "resisted_sprint", "sled_sprint", reps=reps, distance_m=15.0, kit="sled", load_kg=load,
        decrement=decrement,
        rest_reps_s=180, path="straight", minutes=4.0 * reps + 2.0,
    )  # fmt: skip


def _jumps(exercise: str, sets: int, reps: int, **fields: object) -> Json:
    return _line(
        "plyometric", exercise, sets=sets, reps=reps, contacts=sets * reps, rest_s=75 if sets > 1 else None,
        minutes=2.0 * sets + 2.0, **fields,
    )  # fmt: skip


def _top_speed(reps: int) -> Json:
    return _line(
        "unloaded_sprint", "top_speed_run", run="top_speed", reps=reps, run_in_m=20.0, distance_m=10.0,
        rest_reps_s=240, path="straight", minutes=5.0 * reps,
    )  # fmt: skip


def _monday(athlete: str, index: int) -> list[Json]:
    easy = index == 0
    vertical = {"ada": "countermovement_jump_stick", "bo": "drop_jump", "cy": "squat_jump_low"}[athlete]
    drop = {"height_m": 0.4} if vertical == "drop_jump" else {}
    lines = [_acceleration(RUNS[index], 20.0, easy=easy), _sled(athlete, SLEDS[index])]
    return [*lines, _jumps("broad_jump_stick", 2, 5), _jumps(vertical, 2, 5, **drop)]


def _tuesday(athlete: str, index: int) -> list[Json]:
    rir = 5 if index == 0 else 2 if (athlete, index) == ("ada", 4) else 3
    if athlete == "ada":
        jump = _line("power", "jump_squat", kit="bar", load_kg=20.0, share_1rm=0.2, sets=POWER[index], reps=4)
    else:
        jump = _line("power", "bodyweight_jump_squat", load_kg=0.0, share_1rm=0.0, sets=POWER[index], reps=4)
    jump |= {"rest_s": 120, "minutes": 8.0, "stop_rule": {"kind": "velocity_loss", "value": 0.1}}
    if athlete == "cy":
        main = _line("maximal_strength", "slow_split_squat", side="each", reps=8)
    else:
        main = _line("maximal_strength", "back_squat", kit="bar", reps=5)
    main |= {"sets": MAIN[index], "rir": rir, "rest_s": 180, "minutes": 20.0}
    main["stop_rule"] = {"kind": "rir", "value": float(rir)}
    nordic = _line("hamstring_groin_calf", "nordic_lower", sets=2, reps=5, rest_s=45, minutes=4.0)
    return [jump, main, nordic]


def _thursday(athlete: str, index: int) -> list[Json]:
    lines = [_top_speed(TOP_SPEED[index])] if TOP_SPEED[index] else [_acceleration(3, 10.0, easy=True)]
    if athlete == "ada" and index == 2:
        lines.insert(0, _acceleration(2, 60.0, easy=False) | {"rest_reps_s": 360, "minutes": 9.0})
    else:
        lines.append(_jumps("broad_jump_stick", 2, 5))
    rir = 5 if index == 0 else 3
    general = _line(
        "general_strength", "push_up", sets=GENERAL[index], reps=8, reps_to=12, rir=rir, minutes=6.0,
        rest_s=60 if GENERAL[index] > 1 else None, stop_rule={"kind": "rir", "value": float(rir)},
    )  # fmt: skip
    return [*lines, general]


# -------------------------------------------------------------------------------- the document
def _brief() -> Json:
    screening = {"on": "2026-01-02", "pain": False, "cleared": True, "last_hard_sprint": None}
    methods = (
        "unloaded_sprint", "resisted_sprint", "plyometric", "power", "maximal_strength", "general_strength",
    )  # fmt: skip
    levels = {
        "ada": dict.fromkeys(methods, "intermediate") | {"unloaded_sprint": "advanced"},
        "bo": dict.fromkeys(methods, "intermediate") | {"plyometric": "advanced"},
        "cy": dict.fromkeys(methods, "novice"),
    }

    def entry(ref: str, born: str, sex: str, mass: float, **more: object) -> Json:
        lifts = [
            {
                "date": "2026-01-02",
                "exercise": "back_squat",
                "load_kg": SQUAT_KG.get(ref),
                "reps": 1,
                "rir": 0,
            }
        ]
        return {
            "ref": ref, "born": born, "sex": sex, "mass_kg": mass, "height_m": 1.75, "training_years": 2,
            "screening": screening, "level": levels[ref], "lifts": lifts if ref in SQUAT_KG else [], **more,
        }  # fmt: skip

    limit = {"what": "contacts", "at_most": 60}
    restriction = {
        "ref": "ada_heel", "limits": [limit], "from": "2026-01-01", "until": None, "set_by": "coach",
        "set_as": "coach", "set_on": "2026-01-01",
    }  # fmt: skip
    return {
        "schema": "speedloom.brief/1", "name": "By hand", "timezone": "Europe/Amsterdam",
        "start": "2026-01-05",
        "end": "2026-02-15", "responsible_adult": "C. Coach",
        "goal": {"kind": "sprint_time", "distance_m": 30, "peaks": []},
        "phases": {"mesocycle_weeks": [4, 3], "deload": "last", "taper_days": 0, "specificity": [0.0, 0.5]},
        "places": [
            {"ref": "gym", "kind": "gym"},
            {"ref": "hall", "kind": "hall", "surface": "wood", "straight_m": 50.0, "run_out_m": 10.0,
            "lanes": 4},
            {"ref": "oval", "kind": "track", "surface": "rubber", "straight_m": 110.0, "run_out_m": 20.0,
            "lanes": 6},
        ],
        "kit": [
            {"ref": "band", "kind": "band", "place": "oval", "count": 3},
            {"ref": "bar", "kind": "barbell", "place": "gym", "count": 3, "empty_kg": 20.0,
             "plates_kg": [[20.0, 4], [10.0, 2], [5.0, 2], [2.5, 2]]},
            {"ref": "boxes", "kind": "box", "place": "hall", "count": 2},
            {"ref": "sled", "kind": "sled", "place": "hall", "count": 3, "empty_kg": 10.0,
             "plates_kg": [[20.0, 2], [10.0, 2], [5.0, 2], [2.5, 2]], "friction": {"low": 0.3, "high": 0.5}},
        ],
        "slots": [
            {"ref": "mon", "day": "monday", "start": "18:00", "minutes": 110, "place": "hall"},
            {"ref": "thu", "day": "thursday", "start": "18:00", "minutes": 90, "place": "oval"},
            {"ref": "tue", "day": "tuesday", "start": "18:00", "minutes": 75, "place": "gym"},
        ],
        "events": [{"kind": "match", "title": "Away", "date": "2026-02-14", "start": "14:00"}],
        "athletes": [
            entry("ada", "2003-03-03", "female", 62.0, restrictions=[restriction]),
            entry("bo", "1998-04-04", "male", 104.0, weeks_off=2),
            entry("cy", "2010-06-06", "female", 53.0),
        ],
        "measurements": {"trials": [_trial(ref) for ref in ("ada", "bo", "cy")]},
    }  # fmt: skip


def run_time(distance: float, vmax: float = 8.0, tau: float = 1.1) -> float:
    """Time of a mono-exponential sprint, by bisection."""
    low, high = 0.0, 60.0
    for _ in range(80):
        middle = (low + high) / 2
        covered = vmax * (middle + tau * math.expm1(-middle / tau))
        low, high = (middle, high) if covered < distance else (low, middle)
    return low


def _trial(ref: str) -> Json:
    splits = [
        {"distance_m": metres, "time_s": round(run_time(metres + 0.5) - run_time(0.5), 3)}
        for metres in (5.0, 10.0, 20.0, 30.0, 40.0)
    ]
    return {
        "athlete": ref, "date": "2026-01-02", "trial": 1, "timing": "gates", "clock": "behind",
        "behind_m": 0.5,
        "start": "standing", "surface": "wood", "splits": splits,
    }  # fmt: skip


def _session(athlete: str, index: int, day: int, slot: Json, lines: list[Json]) -> Json:
    field = slot["place"] != "gym"
    ready = (
        [_warm_up(FIELD_MINUTES[athlete] - 6.0, "outdoor"), _build_up()] if field else [_warm_up(12.0, "gym")]
    )
    every = [*ready, *lines]
    minutes = sum(line["minutes"] for line in every) + (4.0 if field else 3.0)
    return {
        "date": (MONDAY + timedelta(days=7 * index + day)).isoformat(), "start": "18:00", "minutes": minutes,
        "minutes_available": float(slot["minutes"]), "slot": slot["ref"], "place": slot["place"],
        "role": "faster" if day == 3 else "heavier", "locked": False, "basis": {}, "prescriptions": every,
    }  # fmt: skip


def _derive_squat(document: Json, athlete: str, line: Json) -> None:
    """Load from the lifted single: share for repetitions in reserve, product, nearest plates."""
    lift = f"brief:athletes.{athlete}.lifts.0"
    entry = {"unit": "kg", "low": None, "high": None, "source": None, "mark": "read", "reason": None}
    single, row = SQUAT_KG[athlete], line["reps"] + line["rir"]
    share = {10: 0.75, 8: 0.8, 7: 0.83}[row]
    inputs = {"load_kg": f"{lift}.load_kg", "reps": f"{lift}.reps", "rir": f"{lift}.rir"}
    best = entry | {"quantity": "1rm", "value": single, "by": "one_rep_max.estimate", "inputs": inputs}
    one = new_node(document, best)
    chart = {"reps": f"literal:{line['reps']}", "rir": f"literal:{line['rir']}"}
    part = entry | {"quantity": "share_1rm", "value": share, "by": "repetitions.share", "inputs": chart}
    line["basis"]["share_1rm"] = new_node(document, part)
    raw = entry | {"quantity": "load", "value": round(single * share, 4), "by": "product"}
    wanted = new_node(document, raw | {"inputs": {"a": one, "b": line["basis"]["share_1rm"]}})
    makes = [20.0 + 5.0 * step for step in range(24)]
    load = min(makes, key=lambda mass: (round(abs(mass - single * share), 6), mass))
    kit = {"load_kg": wanted, "kit": "brief:kit.bar"}
    rounded = entry | {"quantity": "load", "value": load, "by": "kit.round_load", "inputs": kit}
    line["basis"]["load_kg"] = new_node(document, rounded)
    line |= {"load_kg": load, "share_1rm": share}


def _number(document: Json, programme: Json, session: Json) -> None:
    for owner in (session, *session["prescriptions"]):
        owner["ref"] = f"{programme['athlete']}-{programme['next_ref']}"
        programme["next_ref"] += 1
        owner["basis"] = {}
        for field in NUMBERS:
            if owner.get(field) is not None:
                put(document, owner, field, owner[field])
    for line in session["prescriptions"]:
        if line["exercise"] == "back_squat":
            _derive_squat(document, programme["athlete"], line)
        if line["stop_rule"] and line["stop_rule"]["value"] is not None:
            put(document, line, "stop_rule.value", line["stop_rule"]["value"])


def _expected(document: Json, line: Json) -> None:
    line["expect"] = {"level": 0.9, "clock": "gates/behind/0.5", "share_vmax": None}
    time = round(run_time(20.5) - run_time(0.5), 3)
    for name, value in (("time_s", time), ("low", time - 0.1), ("high", time + 0.1)):
        put(document, line, f"expect.{name}", round(value, 3))


@cache
def _built() -> Json:
    brief = _brief()
    slots = {slot["ref"]: slot for slot in brief["slots"]}
    document: Json = {
        "schema": "speedloom.programme/1", "id": "0123456789ab", "revision": {"number": 1},
        "engine": "by hand",
        "timezone": "Europe/Amsterdam", "rulebook": {"digest": "sha256:0"},
        "brief": {"digest": None, "content": brief}, "programmes": [], "basis": {},
    }  # fmt: skip
    for athlete in ("ada", "bo", "cy"):
        programme: Json = {
            "athlete": athlete,
            "profile": f"{athlete}/2026-01-02/gates",
            "next_ref": 1,
            "weeks": [],
        }
        document["programmes"].append(programme)
        for index, kind in enumerate(KINDS):
            sessions = [
                _session(athlete, index, 0, slots["mon"], copy.deepcopy(_monday(athlete, index))),
                _session(athlete, index, 1, slots["tue"], copy.deepcopy(_tuesday(athlete, index))),
                _session(athlete, index, 3, slots["thu"], copy.deepcopy(_thursday(athlete, index))),
            ]
            monday = (MONDAY + timedelta(days=7 * index)).isoformat()
            week: Json = {
                "number": index + 1, "monday": monday, "mesocycle": 1 if index < 4 else 2, "kind": kind,
                "volumes": {}, "basis": {}, "sessions": sessions,
            }  # fmt: skip
            put(document, week, "specificity", round(0.1 * index, 3))
            programme["weeks"].append(week)
            for session in sessions:
                _number(document, programme, session)
    _expected(document, line_of(session_of(document, "ada", 2, "mon"), "acceleration_run"))
    recount(document)
    return document


def good_programme() -> Json:
    """A fresh copy of the good programme."""
    return copy.deepcopy(_built())
