"""Hypothesis draws whole briefs: people, days, places, kit, restrictions, absences and peaks."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import Any, get_args

from hypothesis import strategies as st

from invented_briefs import Data, bar, slot, trial
from speedloom.training.words import LEVELS, METHODS, WEEKDAYS, EventKind, LimitOf, LineMethod

START = date(2026, 1, 12)
KICKOFFS = ("10:30:00", "15:00:00", "20:00:00")
FIELD_KINDS = ("hall", "turf", "grass", "track")
TAGS = ("hop", "jump", "squat", "hamstring", "sprint", "sled", "single_leg", "landing", "push", "max_speed")
MOST_OF = {
    "share_vmax": (0.0, 0.6, 0.8, 0.9, 0.97),
    "distance_m": (0.0, 8.0, 13.0, 20.0, 33.0),
    "load_kg": (0.0, 15.0, 40.0, 71.0),
    "share_1rm": (0.0, 0.2, 0.5, 0.7),
    "contacts": (0.0, 10.0, 25.0, 60.0),
    "minutes": (0.0, 30.0, 55.0, 200.0),
    "sets": (0.0, 1.0, 2.0),
}


def days(first: int = 0, last: int = 60) -> st.SearchStrategy[str]:
    """Draw a date of the programme."""
    return st.integers(first, last).map(lambda more: (START + timedelta(days=more)).isoformat())


@st.composite
def limits(draw: st.DrawFn) -> Data:
    """Draw a limit of every kind, narrowed or not."""
    what = draw(st.sampled_from(get_args(LimitOf)))
    limit: Data = {"what": what, "at_most": draw(st.sampled_from(MOST_OF[what]))}
    narrow = draw(st.sampled_from(("", "", "method", "tag", "exercise")))
    if narrow == "method":
        limit["method"] = draw(st.sampled_from(get_args(LineMethod)))
    if narrow == "tag":
        limit["tag"] = draw(st.sampled_from(TAGS))
    if narrow == "exercise":
        limit["exercise"] = draw(st.sampled_from(("back_squat", "sled_sprint", "nordic_lower", "low_pogo")))
    if draw(st.integers(0, 3)) == 0:
        limit["side"] = draw(st.sampled_from(("left", "right")))
    return limit


@st.composite
def restrictions(draw: st.DrawFn, number: int) -> Data:
    """Draw a restriction with one or two limits."""
    first = draw(st.integers(0, 40))
    until = draw(st.sampled_from((None, 10, 30)))
    whole: Data = {
        "ref": f"r{number}",
        "limits": draw(st.lists(limits(), min_size=1, max_size=2)),
        "from": (START + timedelta(days=first)).isoformat(),
        "set_by": "physio",
        "set_as": draw(st.sampled_from(("clinician", "coach"))),
    }
    if until is not None:
        whole["until"] = (START + timedelta(days=first + until)).isoformat()
    return whole


@st.composite
def athletes(draw: st.DrawFn, ref: str, *, restricted: bool) -> Data:
    """Draw an athlete."""
    person: Data = {
        "ref": ref,
        "born": draw(st.sampled_from(("1998-05-01", "2007-03-03", "2011-06-06", "1975-05-05", None))),
        "sex": draw(st.sampled_from(("female", "male", None))),
        "mass_kg": draw(st.sampled_from((48.0, 61.5, 82.0, None))),
        "height_m": draw(st.sampled_from((None, 1.55, 1.9))),
        "level": {method: draw(st.sampled_from(LEVELS)) for method in METHODS},
        "in_training": draw(st.booleans()),
        "weeks_off": draw(st.sampled_from((0, 0, 3))),
    }
    if draw(st.integers(0, 2)) == 0:
        person["match_minutes"] = draw(st.sampled_from((0.0, 20.0, 90.0)))
    if draw(st.booleans()):
        load = draw(st.sampled_from((60.0, 100.0)))
        lift = draw(st.sampled_from(("back_squat", "trap_bar_deadlift")))
        person["lifts"] = [{"date": "2026-01-08", "exercise": lift, "load_kg": load, "reps": 4, "rir": 1}]
    if draw(st.integers(0, 2)) == 0:
        first = draw(st.integers(0, 50))
        gone = [(START + timedelta(days=first + more)).isoformat() for more in (0, draw(st.integers(0, 30)))]
        person["away"] = [{"date": gone[0], "until": gone[1]}]
    if restricted:
        person["restrictions"] = [draw(restrictions(number)) for number in range(draw(st.integers(1, 2)))]
    return person


@st.composite
def rooms(draw: st.DrawFn) -> tuple[list[Data], list[Data]]:
    """Draw a straight and a gym with their kit."""
    field = {
        "ref": "field",
        "kind": draw(st.sampled_from(FIELD_KINDS)),
        "surface": "one",
        "straight_m": draw(st.sampled_from((20, 35, 60, 120))),
        "run_out_m": draw(st.sampled_from((0, 5, 10))),
        "lanes": draw(st.sampled_from((1, 4))),
    }
    kit: list[Data] = []
    if draw(st.booleans()):
        empty = draw(st.sampled_from((8.0, 20.0)))
        sled = {"kind": "sled", "place": "field", "empty_kg": empty, "plates_kg": [[10.0, 6], [5.0, 2]]}
        kit.append({"ref": "sled", "count": draw(st.integers(1, 2)), **sled})
    kit += [bar(kind) | {"ref": kind} for kind in ("barbell", "trap_bar") if draw(st.booleans())]
    if draw(st.booleans()):
        pairs = [[mass, 2] for mass in (4.0, 8.0, 12.0, 16.0)]
        kit.append({"ref": "hand", "kind": "dumbbell", "place": "gym", "weights_kg": pairs})
    return [field, {"ref": "gym", "kind": "gym"}], kit


@st.composite
def slots(draw: st.DrawFn) -> list[Data]:
    """Draw one to five slots on different days, or two on one of them; some open, some for a while only."""
    chosen = draw(st.lists(st.sampled_from(WEEKDAYS), min_size=1, max_size=5, unique=True))
    found = [draw(one_slot(day[:3], day, start=("09:00:00", "18:30:00"))) for day in chosen]
    if draw(st.integers(0, 3)) == 0:
        # Two hours and more before the others, or after them.
        found.append(draw(one_slot("twice", chosen[0], start=("06:30:00", "12:00:00", "21:00:00"))))
    return found


@st.composite
def one_slot(draw: st.DrawFn, ref: str, day: str, *, start: tuple[str, ...]) -> Data:
    """Draw a slot on a weekday."""
    place = draw(st.sampled_from(("field", "gym")))
    made = slot(ref, day, place, minutes=draw(st.integers(30, 120)), start=draw(st.sampled_from(start)))
    if draw(st.integers(0, 5)) == 0:
        made["open"] = True
    if draw(st.integers(0, 5)) == 0:
        made["from"] = draw(days(0, 40))
    if draw(st.integers(0, 5)) == 0:
        made["until"] = draw(days(41, 80))
    return made


@st.composite
def phases(draw: st.DrawFn) -> Data:
    """Draw the plan of the weeks."""
    chosen = draw(st.lists(st.sampled_from(METHODS), min_size=1, unique=True))
    return {
        "mesocycle_weeks": draw(st.lists(st.integers(3, 6), min_size=1, max_size=3)),
        "deload": draw(st.sampled_from(("first", "last", "none"))),
        "taper_days": draw(st.sampled_from((0, 8, 10, 14))),
        "methods": draw(st.sampled_from((list(METHODS), chosen))),
        "season": draw(seasons()),
    }


@st.composite
def seasons(draw: st.DrawFn) -> list[Data]:
    """Draw no season, or one that lasts weeks or all through."""
    if draw(st.integers(0, 2)):
        return []
    first = draw(st.sampled_from((0, 21)))
    until = first + draw(st.sampled_from((20, 41, 90)))
    return [{"from": _date(first), "until": _date(until)}]


def _date(more: int) -> str:
    return (START + timedelta(days=more)).isoformat()


@st.composite
def events(draw: st.DrawFn) -> list[Data]:
    """Draw up to three events of some days, and matches every week or twice a week."""
    found = [draw(event()) for _ in range(draw(st.integers(0, 3)))]
    league = draw(st.sampled_from(((), (), (5,), (2, 6), (1,))))
    if league:
        first = draw(st.integers(0, 3))
        found += [
            {"kind": "match", "date": _date(7 * week + day), "start": draw(st.sampled_from(KICKOFFS))}
            for week in range(first, first + draw(st.integers(2, 6)))
            for day in league
        ]
    return found


@st.composite
def event(draw: st.DrawFn) -> Data:
    """Draw an event of any kind; exams, travel, holidays and tournaments last some days."""
    first = draw(st.integers(0, 60))
    made: Data = {"kind": draw(st.sampled_from(get_args(EventKind))), "date": _date(first)}
    if made["kind"] in {"exam", "travel", "holiday", "competition", "other"} and draw(st.booleans()):
        made["until"] = _date(first + draw(st.sampled_from((1, 4, 13, 22))))
    if draw(st.booleans()):
        made["start"] = draw(st.sampled_from(("10:00:00", "19:30:00")))
    if made["kind"] in {"holiday", "other", "travel"}:
        made["training"] = draw(st.sampled_from(("none", "possible")))
    return made


@st.composite
def own_lines(draw: st.DrawFn, stands: list[Data]) -> list[Data]:
    """Draw no line of the coach's own, or one with jumps, technique or a lift."""
    if draw(st.integers(0, 4)):
        return []
    where = draw(st.sampled_from(stands))
    made: Data = {"ref": "own", "slot": where["ref"], "minutes": draw(st.sampled_from((5.0, 20.0, 60.0)))}
    kinds: list[Data] = [{"method": "other", "exercise": "own_line", "title": "Ball work"}]
    if where["place"] == "field":
        kinds += [
            {"method": "technique", "exercise": "a_skip", "sets": 2, "reps": 3, "distance_m": 10.0},
            {"method": "plyometric", "exercise": "low_pogo", "sets": 2, "reps": 8, "contacts": 16},
        ]
    made |= draw(st.sampled_from(kinds))
    made["position"] = draw(st.sampled_from(("after_warm_up", "last")))
    made["first_week"] = draw(st.integers(1, 4))
    return [made]


@st.composite
def briefs(draw: st.DrawFn, *, restricted: bool = True) -> tuple[Data, list[Data]]:
    """Draw a brief with its timed runs."""
    people = [
        draw(athletes(ref, restricted=restricted and draw(st.integers(0, 3)) > 0))
        for ref in ("ada", "ben")[: draw(st.integers(1, 2))]
    ]
    places, kit = draw(rooms())
    peaks = [
        {"date": draw(days(21, 60)), "size": draw(st.sampled_from(("main", "minor")))}
        for _ in range(draw(st.integers(0, 3)))
    ]
    stands = draw(slots())
    data: dict[str, Any] = {
        "schema": "speedloom.brief/1",
        "name": "Drawn",
        "timezone": "Europe/Amsterdam",
        "start": draw(days(0, 6)),
        "end": draw(days(28, draw(st.sampled_from((62, 62, 90))))),
        "goal": {"kind": "sprint_time", "distance_m": 40, "peaks": peaks},
        "phases": draw(phases()),
        "places": places,
        "kit": kit,
        "slots": stands,
        "events": draw(events()),
        "own_lines": draw(own_lines(stands)),
        "athletes": people,
    }
    timed = [_timed(draw, person) for person in people if draw(st.integers(0, 4)) > 0]
    return data, timed


def _timed(draw: st.DrawFn, person: Data) -> Data:
    """Draw a test: gates or a hand, any clock and number of gates, a flying run, or a speed trace."""
    f0, v0 = draw(st.sampled_from((6.2, 7.4, 8.4))), draw(st.sampled_from((7.4, 8.6, 9.8)))
    kind = draw(st.sampled_from(("gates", "gates", "gates", "hand", "flying", "radar")))
    if kind == "radar":
        return _trace(person["ref"], 0.96 * v0, v0 / f0, steps_mps=draw(st.sampled_from((0.0, 0.2))))
    timed = trial(
        person["ref"],
        f0=f0,
        v0=v0,
        mass=person["mass_kg"] or 65.0,
        clock=draw(st.sampled_from(("movement", "unknown", "behind"))),
        gates=draw(st.sampled_from(((5, 10, 20, 30, 40), (10, 20, 30), (10, 20), (30,)))),
    )
    if kind == "flying":
        return timed | {"start": "flying", "splits": [{"distance_m": 20.0, "time_s": round(21 / v0, 2)}]}
    return timed | {"timing": kind}


def _trace(ref: str, vmax: float, tau: float, *, steps_mps: float) -> Data:
    """Make a radar trace with a late start and a runner's steps."""
    points = []
    for tick in range(100):
        time = round(0.05 * tick, 2)
        moving = vmax * -math.expm1(-(time - 0.3) / tau) + steps_mps * math.sin(26 * time)
        points.append({"time_s": time, "speed_mps": round(max(0.0, moving), 2) if time > 0.3 else 0.1})
    return {"athlete": ref, "date": "2026-01-08", "trial": 1, "timing": "radar", "points": points}
