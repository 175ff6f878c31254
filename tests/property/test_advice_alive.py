"""Advice is alive as well: each hint is given where a programme earns it, and not otherwise."""

from __future__ import annotations

import json

import pytest

from property.alive_rows import Change, both, brief, of, on, run
from speedloom.checking.finding import Finding
from speedloom.checking.register import CHECKS
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme
from unit.checking.good_programme import good_programme
from unit.checking.programme_edit import Json, athlete_of, entry_of, line_of, put, recount, session_of


def found(document: Json) -> set[tuple[str, str, str | None]]:
    programme = Programme.model_validate_json(json.dumps(document))
    findings = check_programme(programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())
    return {_place(finding) for finding in findings}


def _place(finding: Finding) -> tuple[str, str, str | None]:
    return (finding.rule, finding.number, finding.athlete)


def nothing(_: Json) -> None:
    """Leave the programme as it is."""


def without(athlete: str, exercise: str) -> Change:
    """Take an exercise out of every session."""

    def change(document: Json) -> None:
        for week in athlete_of(document, athlete)["weeks"]:
            for session in week["sessions"]:
                session["prescriptions"] = [
                    line for line in session["prescriptions"] if line["exercise"] != exercise
                ]
        recount(document)

    return change


def wide_band(document: Json) -> None:
    line = line_of(session_of(document, "ada", 2, "mon"), "acceleration_run")
    put(document, line, "expect.high", line["expect"]["time_s"] * 1.2)


def old_test(document: Json) -> None:
    for trial in document["brief"]["content"]["measurements"]["trials"]:
        trial["date"] = "2025-10-01"
    for programme in document["programmes"]:
        programme["profile"] = f"{programme['athlete']}/2025-10-01/gates"


def tapered(document: Json) -> None:
    content = document["brief"]["content"]
    content["goal"]["peaks"] = [{"date": "2026-02-14", "size": "main"}]
    content["phases"]["taper_days"] = 10


def no_deload(document: Json) -> None:
    for index, week in enumerate(athlete_of(document, "ada")["weeks"]):
        week |= {"kind": "loading", "number": index + 1}


def by_mass_alone(document: Json) -> None:
    put(document, line_of(session_of(document, "ada", 5, "mon"), "sled_sprint"), "decrement", None)


def slow_stop(document: Json) -> None:
    put(document, line_of(session_of(document, "ada", 5, "tue"), "jump_squat"), "stop_rule.value", 0.3)


def more_jumps(document: Json) -> None:
    on("cy", 5, "mon", "broad_jump_stick", sets=4, reps=10, contacts=40)(document)


def pushed(document: Json) -> None:
    line = line_of(session_of(document, "ada", 5, "mon"), "sled_sprint")
    line["exercise"] = "sled_push"
    put(document, line, "load_kg", 45.0)


def starved(athlete: str) -> Change:
    return both(without(athlete, "top_speed_run"), without(athlete, "acceleration_run"))


TOO_FAST = run("ada", 5, "thu", like="top_speed_run", exercise="tempo_run", effort=0.8, run="submaximal")
CASES: list[tuple[str, str, str, Change]] = [
    ("sprint_rest", "s_per_10_m", "ada", on("ada", 5, "mon", "acceleration_run", rest_reps_s=110)),
    ("tempo_runs", "effort_high", "ada", TOO_FAST),
    ("top_speed_exposure", "days", "cy", starved("cy")),
    ("top_speed_exposure", "runs_low", "bo", on("bo", 5, "thu", "top_speed_run", reps=1)),
    ("top_speed_exposure", "runs_high", "bo", on("bo", 5, "thu", "top_speed_run", reps=5)),
    ("fast_metres_rise", "rise", "bo", on("bo", 5, "thu", "top_speed_run", distance_m=50.0, reps=4)),
    ("contacts_rise", "rise", "cy", more_jumps),
    ("sled_by_decrement", "", "ada", by_mass_alone),
    ("sled_pull_bands", "decrement_25_high", "ada", on("ada", 5, "mon", "sled_sprint", load_kg=40.0)),
    ("sled_push_bands", "decrement_25_high", "ada", pushed),
    ("plyometric_block", "sessions_low", "ada", nothing),
    ("plyometric_block", "", "ada", without("ada", "broad_jump_stick")),
    ("jump_squat_load", "share", "ada", on("ada", 5, "tue", "jump_squat", share_1rm=0.4)),
    ("velocity_loss", "sprint", "ada", slow_stop),
    ("strength_zone", "low_share", "ada", on("ada", 5, "tue", "back_squat", share_1rm=0.6)),
    ("strength_zone", "sets_high", "bo", on("bo", 5, "tue", "back_squat", sets=7)),
    ("nordic_ramp", "week_1", "cy", on("cy", 1, "tue", "nordic_lower", reps=8)),
    ("copenhagen", "pre_season", "ada", nothing),
    ("hamstring_week", "sets", "ada", without("ada", "nordic_lower")),
    ("hamstring_week", "runs", "bo", starved("bo")),
    ("hamstring_week", "match_gap_h", "cy", both(
        on("cy", 6, "tue", "nordic_lower", reps=9),
        brief(lambda content: content["events"][0].update(date="2026-02-12")),
    )),
    ("deload_cut", "cut_low", "bo", nothing),
    ("deload_cut", "every_high_weeks", "ada", both(
        no_deload, lambda document: athlete_of(document, "ada")["weeks"].append(_seventh(document))
    )),
    ("taper", "cut_low", "ada", tapered),
    ("band_width", "width", "ada", wide_band),
    ("profile_age", "days", "bo", old_test),
    ("youth_lifting", "sessions_low", "cy", without("cy", "push_up")),
    ("plyometric_gap", "long_gap_h", "bo", lambda document: session_of(document, "bo", 5, "thu").update(
        date="2026-02-04", start="19:00", slot=None
    )),
    ("sprint_gap", "top_speed_gap_h", "bo", lambda document: session_of(document, "bo", 4, "thu").update(
        date="2026-01-31", start="10:00", slot=None
    )),
]  # fmt: skip


def _seventh(document: Json) -> Json:
    week: Json = json.loads(json.dumps(athlete_of(document, "ada")["weeks"][-1]))
    return week | {"number": 7, "monday": "2026-02-16", "kind": "loading", "sessions": [], "volumes": {}}


@pytest.mark.parametrize(("rule", "number", "athlete", "change"), CASES)
def test_a_hint_is_given_where_it_is_earned(rule: str, number: str, athlete: str, change: Change) -> None:
    document = good_programme()
    hint = (rule, number, athlete)
    assert change is nothing or hint not in found(document)
    change(document)
    assert hint in found(document)


def test_every_advice_has_a_case() -> None:
    book = load_rulebook()
    advice = {rule for rule in CHECKS if book.rule(rule).weight == "advice"}
    assert advice - {case[0] for case in CASES} == set()


# ------------------------------------------------------------------- lower ends, for competitive sprinters
def sprinter(document: Json) -> None:
    """Make ada a competitive sprinter, no longer in a team."""
    document["brief"]["content"]["goal"]["distance_m"] = 100
    document["brief"]["content"]["events"] = []


LOWER_ENDS = {
    ("acceleration_runs", "session_low_m", "ada"),
    ("top_speed_runs", "session_low_m", "ada"),
    ("sled_session", "session_low_m", "ada"),
}


def test_lower_ends_are_advice_for_competitive_sprinters_in_a_full_loading_week() -> None:
    document = good_programme()
    assert found(document) & LOWER_ENDS == set()
    sprinter(document)
    on("ada", 5, "mon", "sled_sprint", reps=3)(document)
    assert found(document) >= LOWER_ENDS - {("acceleration_runs", "session_low_m", "ada")}


@pytest.mark.parametrize(
    "change",
    [
        brief(lambda content: content["goal"].update(distance_m=30)),
        brief(
            lambda content: content.update(events=[{"kind": "match", "title": "Cup", "date": "2026-02-14"}])
        ),
        lambda document: entry_of(document, "ada")["level"].update(unloaded_sprint="intermediate"),
        of("ada", level={}),
    ],
)
def test_for_nobody_else(change: Change) -> None:
    document = good_programme()
    sprinter(document)
    on("ada", 5, "mon", "sled_sprint", reps=3)(document)
    change(document)
    assert found(document) & LOWER_ENDS == set()


def test_other_weeks_are_not_asked() -> None:
    document = good_programme()
    sprinter(document)
    for week in athlete_of(document, "ada")["weeks"]:
        week["kind"] = "deload"
    assert found(document) & LOWER_ENDS == set()
