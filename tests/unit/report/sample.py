"""A believable squad's programme, made by hand: the people and their numbers are invented."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from typing import Any

from speedloom.training.programme import Programme

MONDAY = date(2026, 1, 12)
NAMES = (
    "Ada Maarleveld",
    "Brit Sandoval",
    "Cleo van der Rijnsburgh-Oosterwijk",
    "Dana Okonjo",
    "Elif Aydemir-Lindqvist",
    "Freya Holt",
    "Gwen Parrish",
    "Hanna Brzęczek",
    "Ines Quarto",
    "Jo Tamm",
    "Kaia Lund",
    "Lotte Feld",
    "Mila Ferreira dos Santos",
    "Noa Vance",
)
SPECIFICITY = (0.0, 0.1, 0.3, 0.2, 0.5, 0.6, 0.7, 0.5, 0.8, 0.9, 1.0, 1.0)
KINDS = (
    ("introduction", "loading", "loading", "deload")
    + ("loading",) * 3
    + ("deload", "loading", "loading", "taper", "taper")
)


def athlete(place: int) -> dict[str, Any]:
    person: dict[str, Any] = {
        "ref": NAMES[place].split()[0].lower(),
        "name": NAMES[place],
        "born": f"20{4 + place % 5:02d}-05-02",
        "sex": "female",
        "mass_kg": 58.0 + place,
        "height_m": 1.69,
    }
    if place == 1:
        limits = [
            {"what": "share_vmax", "at_most": 0.8},
            {"what": "contacts", "at_most": 0, "tag": "hop", "side": "right"},
        ]
        person["restrictions"] = [
            {
                "ref": "knee",
                "limits": limits,
                "from": "2026-01-12",
                "until": "2026-05-03",
                "set_by": "A. Physio",
                "set_as": "clinician",
            }
        ]
    return person


def brief(people: int, weeks: int) -> dict[str, Any]:
    end = MONDAY + timedelta(days=7 * weeks - 1)
    events = [
        {"kind": "match", "title": "League, home", "date": str(MONDAY + timedelta(days=7 * week + 5))}
        for week in range(2, weeks)
    ]
    plates = [[20.0, 6], [10.0, 2], [5.0, 4], [2.5, 4], [1.25, 2]]
    return {
        "schema": "speedloom.brief/1",
        "name": "Spring tournament build",
        "timezone": "Europe/Amsterdam",
        "start": str(MONDAY),
        "end": str(end),
        "tests": ["squad.csv"],
        "goal": {
            "kind": "sprint_time",
            "distance_m": 30,
            "peaks": [{"date": str(end - timedelta(days=1)), "size": "main"}],
        },
        "phases": {"mesocycle_weeks": [4] * (weeks // 4), "deload": "last"},
        "places": [
            {"ref": "hall", "kind": "hall", "straight_m": 40, "run_out_m": 10, "lanes": 4},
            {"ref": "gym", "kind": "gym"},
        ],
        "kit": [
            {
                "ref": "bar",
                "kind": "barbell",
                "place": "gym",
                "count": 3,
                "empty_kg": 20.0,
                "plates_kg": plates,
            },
            {
                "ref": "sled",
                "kind": "sled",
                "place": "hall",
                "count": 2,
                "empty_kg": 12.0,
                "plates_kg": [[10.0, 2], [5.0, 2], [2.5, 2]],
                "friction": {"low": 0.3, "high": 0.45},
            },
        ],
        "slots": [
            {"ref": "mon_hall", "day": "monday", "start": "18:00:00", "minutes": 75, "place": "hall"},
            {"ref": "tue_gym", "day": "tuesday", "start": "18:00:00", "minutes": 60, "place": "gym"},
        ],
        "events": events,
        "athletes": [athlete(place) for place in range(people)],
        "assumed": [f"{NAMES[0].split()[0].lower()}.level"],
    }


def line(ref: str, method: str, exercise: str, **fields: object) -> dict[str, Any]:
    return {
        "ref": ref,
        "purpose": "work",
        "method": method,
        "exercise": exercise,
        "sets": 1,
        "reps": 1,
        "minutes": 8.0,
        **fields,
    }


def expected(seconds: float) -> dict[str, Any]:
    return {"time_s": seconds, "low": seconds - 0.05, "high": seconds + 0.05, "clock": "gates/behind/0.5"}


def field_lines(place: int, week: int, refs: Iterator[str]) -> list[dict[str, Any]]:
    far = (10, 15, 20)[min(week // 4, 2)] + (5 if place % 3 == 0 else 0)
    sled = 22.0 + 2.5 * (place % 5)
    drop = {"kind": "time_drop", "value": 0.05}
    runs = line(
        next(refs),
        "unloaded_sprint",
        "acceleration_run",
        run="acceleration",
        reps=5,
        distance_m=far,
        start="standing",
        rest_reps_s=120,
        expect=expected(1.02 + 0.12 * far + place * 0.01),
        stop_rule=drop,
    )
    towed = line(
        next(refs),
        "resisted_sprint",
        "sled_sprint",
        reps=4,
        distance_m=far,
        kit="sled",
        load_kg=sled,
        decrement=0.25,
        rest_reps_s=180,
        expect=expected(1.5 + 0.14 * far + place * 0.01),
        stop_rule=drop,
    )
    bounds = line(next(refs), "plyometric", "alternate_bound", sets=3, reps=8, rest_s=90, contacts=24)
    hops = line(next(refs), "plyometric", "hurdle_hop_stop", sets=3, reps=6, rest_s=90, contacts=18, kit=None)
    warm = line(next(refs), "technique", "indoor", purpose="warm_up", minutes=14.0)
    rise = line(
        next(refs),
        "unloaded_sprint",
        "build_up",
        purpose="build_up",
        run="submaximal",
        reps=4,
        distance_m=20,
        rest_reps_s=75,
        minutes=6.0,
    )
    return [warm, rise, runs, towed, bounds] + ([hops] if place != 1 else [])


def gym_lines(place: int, week: int, refs: Iterator[str]) -> list[dict[str, Any]]:
    load = 60.0 + 5.0 * (place % 6) + 2.5 * week
    reps = (8, 5, 3)[min(week // 4, 2)]
    warm = line(next(refs), "technique", "gym", purpose="warm_up", minutes=10.0)
    jump = line(
        next(refs),
        "power",
        "jump_squat",
        sets=3,
        reps=4,
        load_kg=20.0 + 5 * (place % 2),
        share_1rm=0.25,
        rest_s=120,
        kit="bar",
        stop_rule={"kind": "velocity_loss", "value": 0.1},
    )
    squat = line(
        next(refs),
        "maximal_strength",
        "back_squat",
        sets=4,
        reps=reps,
        load_kg=load,
        share_1rm=0.75,
        rir=2,
        rest_s=180,
        kit="bar",
        stop_rule={"kind": "rir", "value": 2},
    )
    split = line(
        next(refs),
        "general_strength",
        "split_squat",
        sets=3,
        reps=8,
        reps_to=12,
        rir=2,
        rest_s=60,
        side="each",
    )
    nordic = line(next(refs), "hamstring_groin_calf", "nordic_lower", sets=2, reps=5, rest_s=90)
    return [warm, jump, squat, split, nordic]


def week_of(place: int, number: int, refs: Iterator[str]) -> dict[str, Any]:
    monday = MONDAY + timedelta(days=7 * number)
    field = {
        "ref": next(refs),
        "date": str(monday),
        "start": "18:00:00",
        "minutes": 66.5,
        "minutes_available": 75,
        "slot": "mon_hall",
        "place": "hall",
        "role": "heavier",
        "prescriptions": field_lines(place, number, refs),
    }
    gym = {
        "ref": next(refs),
        "date": str(monday + timedelta(days=1)),
        "start": "18:00:00",
        "minutes": 58.0,
        "minutes_available": 60,
        "slot": "tue_gym",
        "place": "gym",
        "role": "neutral",
        "prescriptions": gym_lines(place, number, refs),
    }
    load = {"introduction": 0.5, "loading": 0.8 + 0.05 * (number % 4), "deload": 0.5, "taper": 0.4}[
        KINDS[number]
    ]
    most = {
        "acceleration": 80,
        "resisted_sprint": 60,
        "plyometric": 48,
        "power": 4,
        "maximal_strength": 5,
        "general_strength": 6,
        "hamstring_groin_calf": 3,
    }
    units = {"acceleration": "m", "resisted_sprint": "m", "plyometric": "contacts"}
    volumes = {
        key: {"wanted": load * value, "planned": load * value, "unit": units.get(key, "sets")}
        for key, value in most.items()
    }
    return {
        "number": number + 1,
        "monday": str(monday),
        "mesocycle": number // 4 + 1,
        "kind": KINDS[number],
        "specificity": SPECIFICITY[number],
        "volumes": volumes,
        "sessions": [field, gym],
    }


@cache
def programme(people: int = 3, weeks: int = 4) -> Programme:
    """Make the squad's programme."""
    members = []
    for place in range(people):
        who = NAMES[place].split()[0].lower()
        refs = (f"{who}-{number}" for number in range(1, 10_000))
        rows = [week_of(place, week, refs) for week in range(weeks)]
        members.append({"athlete": who, "next_ref": 9_000, "weeks": rows})
    document = {
        "schema": "speedloom.programme/1",
        "id": "4f1c2a90b7de",
        "revision": {"number": 2},
        "engine": "speedloom 0.1.0",
        "timezone": "Europe/Amsterdam",
        "rulebook": {"digest": "sha256:51aa", "changed": []},
        "brief": {"digest": "sha256:77b2", "content": brief(people, weeks)},
        "programmes": members,
    }
    return Programme.model_validate_json(json.dumps(document))
