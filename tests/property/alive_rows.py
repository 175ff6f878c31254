"""Rows for the rules that are alive: a corruption of a good programme, and a number tightened too far.

Plain changes of the JSON; neither the planner nor the check is imported here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

from unit.checking.programme_edit import (
    Json,
    add_line,
    athlete_of,
    entry_of,
    line_of,
    put,
    recount,
    session_of,
)

Change = Callable[[Json], object]


@dataclass(frozen=True)
class Row:
    """How a rule is broken.

    Attributes:
        corrupt: a change of the good programme that breaks this rule and no other.
        tighten: rule, number and value that make the good programme break it, or None.
        before: what the good programme needs first, so that the tightened number can be broken; where a rule
            has no number it is enough by itself and tightens a limit of the brief.
    """

    corrupt: Change
    tighten: tuple[str, str, float] | None
    before: Change = lambda _: None


def on(athlete: str, week: int, day: str, exercise: str, **values: object) -> Change:
    """Change numbers of one line."""

    def change(document: Json) -> None:
        line = line_of(session_of(document, athlete, week, day), exercise)
        for field, value in values.items():
            put(document, line, field, value)
        recount(document)

    return change


def brief(change: Callable[[Json], object]) -> Change:
    """Change the brief."""
    return lambda document: change(document["brief"]["content"])


def of(athlete: str, **values: object) -> Change:
    """Change an athlete's entry in the brief."""
    return lambda document: entry_of(document, athlete).update(values)


def moved(athlete: str, week: int, day: str, date: str, start: str) -> Change:
    """Move a session by hand."""
    return lambda document: session_of(document, athlete, week, day).update(date=date, start=start, slot=None)


def run(athlete: str, week: int, day: str, *, like: str = "acceleration_run", **values: object) -> Change:
    """Add a run to a session, one repetition unless said."""

    def change(document: Json) -> None:
        session = session_of(document, athlete, week, day)
        facts = {"reps": 1, "rest_reps_s": None, "minutes": 1.0, "run_in_m": None} | values
        add_line(document, athlete, session, line_of(session, like), **facts)

    return change


def both(*changes: Change) -> Change:
    """Make several changes."""

    def change(document: Json) -> None:
        for one in changes:
            one(document)

    return change


def assisted(time_s: float) -> Change:
    """Add an assisted sprint of 10 m after a run-in of 20 m, and say how fast the zone will be."""

    def change(document: Json) -> None:
        session = session_of(document, "ada", 5, "thu")
        line = add_line(
            document, "ada", session, line_of(session, "top_speed_run"), exercise="assisted_sprint", reps=1,
            rest_reps_s=None, minutes=6.0,
        )  # fmt: skip
        line["expect"] = {"level": 0.9, "clock": "gates/flying", "share_vmax": None}
        for name in ("time_s", "low", "high"):
            put(document, line, f"expect.{name}", time_s)

    return change


def swapped(document: Json) -> None:
    lines = session_of(document, "ada", 5, "mon")["prescriptions"]
    lines[2], lines[4] = lines[4], lines[2]


def estimated_from_eleven(document: Json) -> None:
    """Rest ada's squat on eleven repetitions, every step computed rightly."""
    line = line_of(session_of(document, "ada", 5, "tue"), "back_squat")
    basis = document["basis"]
    product = basis[basis[line["basis"]["load_kg"]]["inputs"]["load_kg"]]
    r, load = 11, 64.0
    formulas = (
        1 + r / 30, 36 / (37 - r), 100 / (101.3 - 2.67123 * r), 1 + 0.025 * r,
        100 / (48.8 + 53.8 * 2.718281828459045 ** (-0.075 * r)),
        100 / (52.2 + 41.9 * 2.718281828459045 ** (-0.055 * r)), r**0.1,
    )  # fmt: skip
    estimate = dict(basis[product["inputs"]["a"]])
    estimate["value"] = float(f"{load * median(formulas):.6g}")
    estimate["inputs"] = {"load_kg": f"literal:{load}", "reps": "literal:11", "rir": "literal:0"}
    basis["b_eleven"] = estimate
    product["inputs"]["a"] = "b_eleven"
    product["value"] = float(f"{estimate['value'] * line['share_1rm']:.6g}")
    rounded = basis[line["basis"]["load_kg"]]
    rounded["value"] = line["load_kg"] = round(product["value"] / 5) * 5.0


def wrong_node(document: Json) -> None:
    line = line_of(session_of(document, "bo", 5, "tue"), "back_squat")
    document["basis"][line["basis"]["share_1rm"]]["value"] = 0.81
    line["share_1rm"] = 0.81


def by_the_rule(document: Json) -> None:
    """Let one rest be read from the rulebook, so that another rulebook gives another rest."""
    line = line_of(session_of(document, "ada", 5, "mon"), "broad_jump_stick")
    document["basis"]["b_rule"] = {
        "quantity": "rest", "value": 75.0, "unit": "s", "by": "given",
        "inputs": {"value": "rule:plyometric_dose.rest_s"}, "mark": "common practice",
    }  # fmt: skip
    line["basis"]["rest_s"] = "b_rule"


def without_basis(athlete: str, field: str) -> Change:
    def change(document: Json) -> None:
        line_of(session_of(document, athlete, 5, "mon"), "acceleration_run")["basis"].pop(field)

    return change


def closed(date: str) -> Change:
    event = {"kind": "holiday", "title": "Hall closed", "date": date, "training": "none"}
    return brief(lambda content: content["events"].append(event))


def kit_at(place: str) -> Change:
    return brief(lambda content: content["kit"][3].update(place=place))


def place(index: int, **values: object) -> Change:
    return brief(lambda content: content["places"][index].update(values))


def limits(document: Json, at_most: float) -> None:
    entry_of(document, "ada")["restrictions"][0]["limits"][0]["at_most"] = at_most


CONTACTS = {"sets": 18, "reps": 8, "contacts": 144, "minutes": 31.0}
LONG = {"distance_m": 60.0}
BEYOND = {"distance_m": 100.0, "path": "curve_left", "effort": None}
ENDURANCE = {"distance_m": 70.0, "effort": 0.92, "run": "submaximal", "exercise": "relaxed_run"}

ROWS: dict[str, Row] = {
    "acceleration_runs": Row(
        on("ada", 5, "mon", "acceleration_run", reps=17, effort=0.93, minutes=36.0),
        ("acceleration_runs", "session_high_m", 50),
    ),
    "long_standing_run": Row(
        run("cy", 2, "thu", like="top_speed_run", run="acceleration", exercise="acceleration_run", **LONG),
        ("long_standing_run", "rest_s_per_10_m", 70),
    ),
    "top_speed_runs": Row(
        on("ada", 5, "thu", "top_speed_run", distance_m=40.0, rest_reps_s=360),
        ("top_speed_runs", "zone_high_m", 5),
    ),
    "sprint_endurance": Row(
        run("ada", 3, "thu", **(BEYOND | {"distance_m": 160.0})),
        ("sprint_endurance", "distance_high_m", 90),
        run("ada", 3, "thu", **BEYOND),
    ),
    "speed_endurance": Row(
        run("ada", 3, "thu", **(ENDURANCE | {"distance_m": 85.0})),
        ("speed_endurance", "distance_high_m", 65),
        run("ada", 3, "thu", **ENDURANCE),
    ),
    "assisted_sprint": Row(assisted(1.15), ("assisted_sprint", "speed_share", 1.01), assisted(1.22)),
    "short_rest": Row(on("ada", 5, "mon", "broad_jump_stick", rest_s=60), ("short_rest", "share", 1.5)),
    "sprint_gap": Row(moved("ada", 3, "thu", "2026-01-21", "10:00"), ("sprint_gap", "gap_h", 100)),
    "match_gap": Row(
        brief(lambda content: content["events"][0].update(date="2026-02-13")),
        ("match_gap", "top_speed_runs_48", 1),
    ),
    "sled_session": Row(
        on("ada", 5, "mon", "sled_sprint", distance_m=35.0), ("sled_session", "session_high_m", 40)
    ),
    "sled_heavy_caution": Row(
        on("cy", 5, "mon", "sled_sprint", decrement=0.35), ("sled_heavy_caution", "decrement", 0.15)
    ),
    "contacts_session": Row(
        on("bo", 2, "mon", "broad_jump_stick", **CONTACTS), ("contacts_session", "advanced", 10)
    ),
    "plyometric_gap": Row(moved("ada", 1, "thu", "2026-01-07", "10:00"), ("plyometric_gap", "gap_h", 80)),
    "depth_jump_mass": Row(
        on("bo", 5, "mon", "drop_jump", height_m=0.6), ("depth_jump_mass", "height_m", 0.3)
    ),
    "shock_under_16": Row(of("bo", born="2011-04-04"), ("shock_under_16", "age_years", 30)),
    "depth_jump_strength": Row(of("bo", mass_kg=120.0), ("depth_jump_strength", "share_body_mass", 1.7)),
    "weighted_plyometrics": Row(
        on("bo", 5, "mon", "broad_jump_stick", added_kg=5.0),
        ("weighted_plyometrics", "added_kg", 2),
        on("bo", 5, "mon", "broad_jump_stick", added_kg=5.0),
    ),
    "load_possible": Row(
        on("bo", 5, "tue", "back_squat", load_kg=136.0),
        None,
        brief(lambda content: content["kit"][1].update(empty_kg=25.0)),
    ),
    "one_rep_max_repetitions": Row(estimated_from_eleven, ("one_rep_max_repetitions", "reps", 0)),
    "bars_not_converted": Row(
        brief(lambda content: content["athletes"][0]["lifts"][0].update(exercise="trap_bar_deadlift")),
        None,
        lambda document: line_of(session_of(document, "ada", 5, "tue"), "back_squat").update(
            exercise="front_squat"
        ),
    ),
    "return_after_break": Row(
        on("bo", 1, "thu", "push_up", sets=5, rest_s=60), ("return_after_break", "cut_1", 0.7)
    ),
    "session_order": Row(
        swapped,
        None,
        lambda document: session_of(document, "bo", 2, "tue")["prescriptions"].reverse(),
    ),
    "introduction_week": Row(
        on("ada", 1, "mon", "acceleration_run", effort=0.97), ("introduction_week", "rir", 6)
    ),
    "timing_methods": Row(
        lambda document: line_of(session_of(document, "ada", 2, "mon"), "acceleration_run")["expect"].update(
            clock="hand/behind/0.5"
        ),
        None,
        brief(lambda content: content["measurements"]["trials"][0].update(clock="movement", behind_m=None)),
    ),
    "youth_lifting": Row(moved("cy", 5, "thu", "2026-02-04", "18:00"), ("youth_lifting", "sessions_high", 1)),
    "youth_load": Row(on("cy", 5, "tue", "slow_split_squat", share_1rm=0.85), ("youth_load", "rir", 4)),
    "adult_named": Row(
        brief(lambda content: content.update(responsible_adult=None)),
        ("adult_named", "age_years", 40),
        brief(lambda content: content.update(responsible_adult=None)),
    ),
    "screening": Row(
        lambda document: entry_of(document, "bo").update(
            screening={"on": "2026-01-02", "pain": False, "cleared": False, "last_hard_sprint": None}
        ),
        ("screening", "valid_months", 1),
    ),
    "restriction_kept": Row(
        on("ada", 2, "mon", "countermovement_jump_stick", sets=4, reps=13, contacts=52),
        None,
        lambda document: limits(document, 15),
    ),
    "slot_minutes": Row(
        on("ada", 5, "mon", "acceleration_run", minutes=90.0),
        None,
        brief(lambda content: content["slots"][0].update(minutes=60)),
    ),
    "place_straight": Row(
        run("ada", 5, "mon", distance_m=45.0, run="submaximal", exercise="relaxed_run", effort=0.7),
        None,
        place(1, straight_m=28.0),
    ),
    "place_kind": Row(
        run("ada", 5, "mon", exercise="curve_run", run="submaximal", effort=0.6, distance_m=30.0),
        None,
        place(2, kind="gym"),
    ),
    "kit_present": Row(kit_at("oval"), None, brief(lambda content: content["kit"].pop(2))),
    "athlete_away": Row(
        of("ada", away=[{"date": "2026-02-02", "until": None}]),
        None,
        of("bo", away=[{"date": "2026-01-01", "until": "2026-01-05"}]),
    ),
    "no_training_day": Row(closed("2026-02-02"), None, closed("2026-01-08")),
    "document_sound": Row(
        lambda document: session_of(document, "ada", 5, "mon")["prescriptions"][2].update(locked=["colour"]),
        None,
        lambda document: athlete_of(document, "ada").update(next_ref=3),
    ),
    "derivation": Row(wrong_node, ("plyometric_dose", "rest_s", 90), by_the_rule),
    "basis_present": Row(without_basis("ada", "distance_m"), None, without_basis("bo", "reps")),
    "line_complete": Row(
        lambda document: line_of(session_of(document, "ada", 5, "mon"), "sled_sprint").update(stop_rule=None),
        None,
        lambda document: line_of(session_of(document, "cy", 5, "mon"), "acceleration_run").update(
            rest_reps_s=None
        ),
    ),
    "warm_up_present": Row(on("ada", 5, "mon", "outdoor", minutes=10.0), ("warm_up_present", "share", 1.2)),
    "prerequisites_met": Row(
        lambda document: line_of(session_of(document, "cy", 5, "mon"), "squat_jump_low").update(
            exercise="repeat_pogo_high"
        ),
        None,
        lambda document: entry_of(document, "ada")["level"].update(plyometric="novice"),
    ),
    "two_hard_days": Row(on("cy", 5, "tue", "slow_split_squat", rir=1), ("two_hard_days", "age_years", 40)),
}
