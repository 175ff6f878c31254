"""What a log says was done, counted from the shapes of programme and log alone.

Written from the description of the documents, without a look at the code that makes or reads them: every
function takes plain JSON. Nothing of the product is imported here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from outside_motion import fitted, metres_from

Data = dict[str, Any]
TRAINED = {"done", "modified", "stopped", "extra"}
NOT_DONE = {"skipped", "absent"}
LIFTS = ("power", "maximal_strength", "general_strength", "hamstring_groin_calf")
HARD = ("maximal_strength", "general_strength", "hamstring_groin_calf")


def standing(entries: list[Data]) -> list[Data]:
    """List the entries that hold: of a chain of corrections the latest `at`, ties by `id`; each id once."""
    by_id = {one["id"]: one for one in entries}

    def root(one: Data) -> str:
        seen = {one["id"]}
        while one["replaces"] in by_id and one["replaces"] not in seen:
            one = by_id[one["replaces"]]
            seen.add(one["id"])
        return str(one["id"])

    chains: dict[str, list[Data]] = defaultdict(list)
    for one in by_id.values():
        chains[root(one)].append(one)
    return [
        max(chain, key=lambda one: (datetime.fromisoformat(one["at"]), one["id"]))
        for chain in chains.values()
    ]


def week_of(programme: Data, day: str) -> int:
    """Number the Monday week of a day, week 1 being the first of the programme."""
    first = min(
        date.fromisoformat(week["monday"]) for own in programme["programmes"] for week in own["weeks"]
    )
    return (date.fromisoformat(day) - first).days // 7 + 1


@dataclass
class Amounts:
    """Sums of work: metres, contacts by class, sets and kilograms by exercise, volumes by method."""

    sprint_m: float = 0.0
    resisted_m: float = 0.0
    contacts: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    sets: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    hard_sets: int = 0
    tonnage_kg: float = 0.0
    volumes: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    minutes: float = 0.0


def lines(session: Data) -> list[Data]:
    """List the working lines of a session: warm-up and build-up runs are in no sum."""
    return [line for line in session["prescriptions"] if line["purpose"] == "work"]


def sessions(programme: Data, athlete: str) -> Iterator[Data]:
    """List an athlete's sessions."""
    for own in programme["programmes"]:
        if own["athlete"] == athlete:
            for week in own["weeks"]:
                yield from week["sessions"]


def catalogue(programme: Data) -> dict[str, Data]:
    """Give the exercises that the programme's own brief holds."""
    return {one["ref"]: one for one in programme["brief"]["content"]["catalogue"]}


def contact_class(exercise: Data) -> str:
    """Name the class of contact; jumps with a load and cleans have a class of their own."""
    return exercise["contact_class"] or "loaded"


def sides(side: str | None) -> int:
    """Count the sides: with `each`, repetitions are per side."""
    return 2 if side == "each" else 1


def add_line(sums: Amounts, line: Data, exercise: Data) -> None:
    """Add a line as it is written."""
    count = line["sets"] * line["reps"]
    metres = count * (line["distance_m"] or 0.0)
    if line["method"] == "unloaded_sprint":
        sums.sprint_m += count * ((line["distance_m"] or 0.0) + (line["run_in_m"] or 0.0))
        sums.volumes[line["run"]] += metres
    elif line["method"] == "resisted_sprint":
        sums.resisted_m += metres
        sums.volumes["resisted_sprint"] += metres
    elif line["method"] == "plyometric":
        sums.volumes["plyometric"] += line["contacts"]
    elif line["method"] in LIFTS:
        add_sets(sums, line, line["sets"])
        reps = count * sides(line["side"])
        sums.tonnage_kg += reps * (line["load_kg"] or 0.0)
    contacts = line["contacts"] or count * exercise["contacts_per_rep"] * sides(line["side"])
    if contacts:
        sums.contacts[contact_class(exercise)] += contacts


def add_sets(sums: Amounts, line: Data, sets: int) -> None:
    """Add sets of a lift: working sets of strength work are the hard ones."""
    sums.sets[line["exercise"]] += sets
    sums.volumes[line["method"]] += sets
    sums.hard_sets += sets if line["method"] in HARD else 0


def add_results(sums: Amounts, line: Data, results: list[Data], exercise: Data) -> None:
    """Add what was written down of a line; a value that is asked about is in no sum."""
    usual = [one for one in results if one["mark"] != "unusual"]
    if line["method"] == "unloaded_sprint":
        sums.sprint_m += sum(one["distance_m"] + (line["run_in_m"] or 0.0) for one in usual)
        sums.volumes[line["run"]] += sum(one["distance_m"] for one in usual)
    elif line["method"] == "resisted_sprint":
        metres = sum(one["distance_m"] for one in usual)
        sums.resisted_m += metres
        sums.volumes["resisted_sprint"] += metres
    elif line["method"] == "plyometric":
        sums.volumes["plyometric"] += sum(one["contacts"] or 0 for one in usual)
    elif line["method"] in LIFTS:
        add_sets(sums, line, len({one["set"] for one in usual}))
        each = sides(line["side"])
        sums.tonnage_kg += sum(_kilograms(one, line) * (one["reps"] or 0) * each for one in usual)
    for one in usual:
        each_rep = exercise["contacts_per_rep"] * sides(line["side"])
        contacts = one["contacts"] or (one["reps"] or 0) * each_rep
        if contacts:
            sums.contacts[contact_class(exercise)] += contacts


def planned(programme: Data, athlete: str, week: int, until: str) -> Amounts:
    """Add up an athlete's week as it is written, up to a day."""
    sums, known = Amounts(), catalogue(programme)
    for session in sessions(programme, athlete):
        if week_of(programme, session["date"]) == week and session["date"] <= until:
            sums.minutes += session["minutes"]
            for line in lines(session):
                add_line(sums, line, known[line["exercise"]])
    return sums


def _kilograms(one: Data, line: Data) -> float:
    """Give the load of a set; where none was written down it was the line's."""
    return float(one["load_kg"] or line.get("load_kg") or 0.0)


def line_of(programme: Data, one: Data, known: dict[str, Data]) -> Data:
    """Find an entry's line: by ref, else by athlete, day and exercise, else as it was or as is usual."""
    own = list(sessions(programme, one["athlete"]))
    for line in (line for session in own for line in lines(session)):
        if line["ref"] == one["line"]:
            return line
    for line in (line for session in own if session["date"] == one["date"] for line in lines(session)):
        if line["exercise"] == one["exercise"]:
            return line
    for gone in (gone for each in programme["programmes"] for gone in each.get("retired_lines", ())):
        if gone["ref"] == one["line"]:
            return dict(gone)
    kind = known[one["exercise"]]
    run = {"acceleration_run": "acceleration", "top_speed_run": "top_speed"}.get(one["exercise"])
    return {
        **one,
        "method": kind["method"],
        "run": run,
        "run_in_m": None,
        "side": kind["sides"],
        "effort": None,
    }


def done(programme: Data, entries: list[Data], athlete: str, week: int) -> Amounts:
    """Add up what was written down of an athlete's week, on the days it was done."""
    sums, known = Amounts(), catalogue(programme)
    for one in standing(entries):
        if (
            one["athlete"] != athlete
            or week_of(programme, one["date"]) != week
            or one["status"] not in TRAINED
        ):
            continue
        if one["exercise"]:
            line = line_of(programme, one, known)
            add_results(sums, line, one["results"], known[line["exercise"]])
        if one["minutes"] and one["mark"] != "unusual":
            sums.minutes += one["minutes"]
    return sums


def fast_metres(lines_run: list[tuple[Data, float]], length_m: float, share: float) -> float:
    """Add up the metres at a share of top speed of runs, each with the metres it really had."""
    return sum(
        metres_from(length_m, share, run_m=metres + (line["run_in_m"] or 0.0), effort=line["effort"] or 1.0)
        for line, metres in lines_run
        if line["method"] == "unloaded_sprint"
    )


def planned_runs(programme: Data, athlete: str, week: int) -> list[tuple[Data, float]]:
    """List every run of a week as it is written."""
    return [
        (line, line["distance_m"])
        for session in sessions(programme, athlete)
        if week_of(programme, session["date"]) == week
        for line in lines(session)
        if line["method"] == "unloaded_sprint"
        for _ in range(line["sets"] * line["reps"])
    ]


def done_runs(programme: Data, entries: list[Data], athlete: str, week: int) -> list[tuple[Data, float]]:
    """List every run of a week that was written down."""
    known = catalogue(programme)
    own = [one for one in standing(entries) if one["athlete"] == athlete and one["exercise"]]
    week_s = [one for one in own if week_of(programme, one["date"]) == week and one["status"] in TRAINED]
    return [
        (line_of(programme, one, known), result["distance_m"])
        for one in week_s
        for result in one["results"]
        if result["distance_m"] and result["mark"] != "unusual"
    ]


def acceleration_length(programme: Data, athlete: str) -> float:
    """Fit the athlete's vmax tau [m] to the best trial of the only test in the brief."""
    trials = programme["brief"]["content"]["measurements"]["trials"]
    own = [trial for trial in trials if trial["athlete"] == athlete]
    best = min(own, key=lambda trial: (trial["splits"][-1]["time_s"], trial["trial"]))
    gates = [(split["distance_m"], split["time_s"]) for split in best["splits"]]
    vmax, tau = fitted(gates, best["behind_m"])
    return vmax * tau


def session_loads(entries: list[Data], athlete: str) -> dict[str, float]:
    """Give the session load of each day: effort x minutes, two sessions of a day summed."""
    loads: dict[str, float] = defaultdict(float)
    for one in standing(entries):
        if one["athlete"] == athlete and one["effort"] is not None and one["minutes"] is not None:
            loads[one["date"]] += one["effort"] * one["minutes"] if one["mark"] != "unusual" else 0.0
    return loads
