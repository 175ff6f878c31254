"""Hypothesis draws chains of news about a programme: what happens to people, days, kit and tests, in turn."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from typing import Any

from hypothesis import strategies as st

import invented_briefs
from drawn_briefs import briefs as drawn_briefs
from replanned import broken, outcome, with_news
from speedloom.planning.clash import Clash
from speedloom.training.programme import Programme

Data = dict[str, Any]
Change = Callable[[Data], object]
START = date(2026, 1, 12)
LAST = 55
"""Days from the first day in which something may happen."""
LIMITS = (
    {"what": "share_vmax", "at_most": 0.8},
    {"what": "share_vmax", "at_most": 0.0},
    {"what": "distance_m", "at_most": 20.0},
    {"what": "load_kg", "at_most": 40.0},
    {"what": "contacts", "at_most": 0.0},
    {"what": "contacts", "at_most": 25.0},
    {"what": "sets", "at_most": 2.0},
    {"what": "minutes", "at_most": 55.0},
    {"what": "share_1rm", "at_most": 0.7, "method": "maximal_strength"},
)


@dataclass(frozen=True)
class News:
    """Something that became known on a day: days lost before it, or a change to the brief."""

    since: date
    name: str
    change: Change | None = None
    lost: Mapping[str, tuple[date, ...]] = field(default_factory=dict)

    def __repr__(self) -> str:
        return f"News({self.since}, {self.name})"


@dataclass(frozen=True)
class Base:
    """A programme to begin with; None where nothing can be planned."""

    name: str
    programme: Programme | None

    def __repr__(self) -> str:
        return f"Base({self.name})"


@cache
def squad() -> Programme:
    """Plan two athletes for nine weeks, with matches, a peak and a coach's restriction."""
    limit = {"what": "distance_m", "at_most": 30.0}
    held = {"ref": "thigh", "limits": [limit], "from": "2026-02-02", "until": "2026-02-08"}
    people = [
        invented_briefs.athlete("ada", away=[{"date": "2026-02-03", "until": "2026-02-05"}]),
        invented_briefs.athlete(
            "ben",
            level="novice",
            born="2011-05-05",
            restrictions=[held | {"set_by": "coach", "set_as": "coach"}],
        ),
    ]
    more: Data = {
        "goal": {
            "kind": "sprint_time",
            "distance_m": 40,
            "peaks": [{"date": "2026-03-14", "size": "main"}],
        },
        "phases": {"mesocycle_weeks": [3, 3, 3], "deload": "last", "taper_days": 8},
        "events": [
            {"kind": "match", "title": "Home", "date": "2026-02-07", "start": "15:00:00"},
            {"kind": "match", "title": "Away", "date": "2026-02-21", "start": "15:00:00"},
        ],
    }
    return invented_briefs.planned(invented_briefs.brief(*people, end="2026-03-15", **more))


@cache
def one() -> Programme:
    """Plan one athlete for eight weeks without a peak, the lighter weeks first."""
    phases = {"mesocycle_weeks": [4, 4], "deload": "first", "taper_days": 0}
    person = invented_briefs.athlete("ada", level="intermediate", in_training=True)
    return invented_briefs.planned(invented_briefs.brief(person, end="2026-03-08", phases=phases))


@st.composite
def bases(draw: st.DrawFn) -> Base:
    """Draw a programme to begin with: one of two, or that of a brief drawn from scratch."""
    kind = draw(st.sampled_from(("squad", "one", "one", "drawn", "drawn")))
    if kind != "drawn":
        return Base(kind, squad() if kind == "squad" else one())
    drawn = draw(drawn_briefs())
    planned = invented_briefs.outcome(*drawn)
    return Base(f"drawn {drawn}", planned if isinstance(planned, Programme) else None)


@st.composite
def chains(draw: st.DrawFn) -> tuple[News, ...]:
    """Draw one to four news on growing days."""
    days = draw(st.lists(st.integers(1, LAST), min_size=1, max_size=4, unique=True))
    return tuple(draw(news(START + timedelta(days=day))) for day in sorted(days))


@st.composite
def news(draw: st.DrawFn, since: date) -> News:
    """Draw what became known on a day."""
    kinds = (lost, away, match, restriction, lifted, peak, kit, slot, test, lift, people)
    return draw(draw(st.sampled_from(kinds))(since))


@st.composite
def lost(draw: st.DrawFn, since: date) -> News:
    """Draw days that one or all athletes did not train."""
    count = draw(st.sampled_from((1, 1, 2, 5, 9, 16, 25)))
    gone = tuple(since - timedelta(days=more) for more in range(count, 0, -1))
    whom = draw(st.sampled_from((("ada",), ("ada", "ben"))))
    return News(since, f"{count} days lost by {whom}", lost=dict.fromkeys(whom, gone))


@st.composite
def away(draw: st.DrawFn, since: date) -> News:
    """Draw days on which somebody will be away."""
    first = since + timedelta(days=draw(st.integers(0, 20)))
    until = first + timedelta(days=draw(st.sampled_from((0, 2, 8, 15))))
    span = {"date": first.isoformat(), "until": until.isoformat()}
    return News(since, f"away {first} to {until}", lambda brief: brief["athletes"][0]["away"].append(span))


@st.composite
def match(draw: st.DrawFn, since: date) -> News:
    """Draw a match that is moved, or a new one."""
    day = (since + timedelta(days=draw(st.integers(1, 21)))).isoformat()
    which = draw(st.integers(0, 3))

    def change(brief: Data) -> None:
        ahead = [
            one for one in brief["events"] if one["kind"] == "match" and one["date"] >= since.isoformat()
        ]
        if which and ahead:
            ahead[which % len(ahead)]["date"] = day
        else:
            brief["events"].append({"kind": "match", "date": day, "start": "15:00:00"})

    return News(since, f"match {which} on {day}", change)


@st.composite
def restriction(draw: st.DrawFn, since: date) -> News:
    """Draw a restriction that holds from now on, for some days or until it is lifted."""
    limits = draw(st.lists(st.sampled_from(LIMITS), min_size=1, max_size=2, unique_by=str))
    until = draw(st.sampled_from((None, 6, 13, 20)))
    held: Data = {"ref": f"r{since:%m%d}", "limits": deepcopy(limits), "from": since.isoformat()}
    held |= {"set_by": "physio", "set_as": draw(st.sampled_from(("clinician", "coach")))}
    if until is not None:
        held["until"] = (since + timedelta(days=until)).isoformat()
    return News(since, f"restriction {held}", lambda brief: brief["athletes"][0]["restrictions"].append(held))


def lifted(since: date) -> st.SearchStrategy[News]:
    """Let restrictions end the day before."""
    until = (since - timedelta(days=1)).isoformat()

    def change(brief: Data) -> None:
        for person in brief["athletes"]:
            for held in person["restrictions"]:
                if held["from"] <= until and (held["until"] is None or held["until"] > until):
                    held["until"] = until

    return st.just(News(since, "restrictions lifted", change))


@st.composite
def peak(draw: st.DrawFn, since: date) -> News:
    """Draw another peak date, or a new minor peak."""
    day = (since + timedelta(days=draw(st.integers(3, 40)))).isoformat()
    size = draw(st.sampled_from(("main", "minor")))

    def change(brief: Data) -> None:
        over = [one for one in brief["goal"]["peaks"] if one["date"] < since.isoformat()]
        brief["goal"]["peaks"] = [*over, {"date": day, "size": size}]

    return News(since, f"{size} peak on {day}", change)


@st.composite
def kit(draw: st.DrawFn, since: date) -> News:
    """Draw kit that is gone, kit that is there again, or other plates."""
    kind = draw(st.sampled_from(("sled", "barbell")))
    how = draw(st.sampled_from(("gone", "back", "plates")))

    def change(brief: Data) -> None:
        there = [one for one in brief["kit"] if one["kind"] == kind]
        if how == "gone":
            brief["kit"] = [one for one in brief["kit"] if one["kind"] != kind]
        elif there:
            there[0]["plates_kg"] = [[10.0, 4], [5.0, 2]]
        else:
            places = {one["kind"]: one["ref"] for one in brief["places"]}
            where = places["gym"] if kind == "barbell" else next(r for k, r in places.items() if k != "gym")
            new: Data = {"ref": f"{kind}_2", "kind": kind, "place": where, "empty_kg": 10.0}
            brief["kit"].append(new | {"plates_kg": [[20.0, 2], [10.0, 2], [5.0, 2]]})

    return News(since, f"{kind} {how}", change)


@st.composite
def slot(draw: st.DrawFn, since: date) -> News:
    """Draw a slot on another day, at another time, of another length, ended, or a new one."""
    which, how = draw(st.integers(0, 3)), draw(st.sampled_from(("day", "start", "minutes", "ended", "new")))
    day = draw(st.sampled_from(("wednesday", "saturday", "sunday")))
    minutes = draw(st.sampled_from((60, 75, 100)))

    def change(brief: Data) -> None:
        slots = brief["slots"]
        chosen = slots[which % len(slots)]
        taken = {one["day"] for one in slots if one is not chosen or how == "new"}
        if how in {"day", "new"} and day in taken:
            return  # two sessions at once would be the brief's fault
        if how == "day":
            chosen["day"] = day
        elif how == "start":
            chosen["start"] = "16:00"
        elif how == "minutes":
            chosen["minutes"] = minutes
        elif how == "ended":
            chosen["until"] = (since - timedelta(days=1)).isoformat()
        else:
            slots.append(
                chosen | {"ref": f"new{since:%m%d}", "day": day, "from": since.isoformat(), "until": None}
            )

    return News(since, f"slot {which} {how} {day} {minutes}", change)


@st.composite
def test(draw: st.DrawFn, since: date) -> News:
    """Draw a test day of the day before, faster or slower."""
    day = (since - timedelta(days=1)).isoformat()
    times = draw(st.sampled_from((0.97, 1.0, 1.03)))

    def change(brief: Data) -> None:
        trials = brief["measurements"]["trials"]
        known = {one["athlete"]: one for one in trials}
        for one in known.values():
            splits = [split | {"time_s": round(times * split["time_s"], 3)} for split in one["splits"]]
            trials.append(one | {"date": day, "splits": splits})

    return News(since, f"test {times} of {day}", change)


@st.composite
def lift(draw: st.DrawFn, since: date) -> News:
    """Draw a lift of the day before."""
    load = draw(st.sampled_from((90.0, 110.0, 130.0)))
    row = {"date": (since - timedelta(days=1)).isoformat(), "exercise": "back_squat", "load_kg": load}
    row |= {"reps": 3, "rir": 1}
    return News(since, f"lift {load}", lambda brief: brief["athletes"][0]["lifts"].append(row))


@st.composite
def people(draw: st.DrawFn, since: date) -> News:
    """Draw somebody who joins, or who leaves a squad."""
    leaves = draw(st.booleans())

    def change(brief: Data) -> None:
        if leaves and len(brief["athletes"]) > 1:
            brief["athletes"].pop()
        else:
            brief["athletes"].append(brief["athletes"][0] | {"ref": f"zoe{since:%m%d}", "away": []})

    return News(since, "leaves" if leaves else "joins", change)


def walk(programme: Programme, chain: tuple[News, ...]) -> tuple[list[str], int]:
    """Plan again with one piece of news after another; give what was broken, and how many were possible."""
    faults: list[str] = []
    made = 0
    for one in chain:
        brief = None if one.change is None else with_news(programme, one.change)
        known = (
            {athlete.ref for athlete in programme.brief.content.athletes}
            if programme.brief.content
            else set()
        )
        lost_by = {athlete: days for athlete, days in one.lost.items() if athlete in known}
        new = outcome(programme, since=one.since, lost=lost_by, brief=brief)
        if isinstance(new, Clash):
            continue
        made += 1
        faults += [f"{one}: {fault}" for fault in broken(programme, new, since=one.since)]
        faults += [
            f"{one}: {days} days later, without news, it changed again"
            for days in (1, 11)
            if outcome(new, since=one.since + timedelta(days=days)) is not new
        ]
        programme = new
    return faults, made
