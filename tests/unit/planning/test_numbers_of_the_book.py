"""Numbers that once stood in code stand in the rulebook: a coach's change of one is what is planned by."""

from __future__ import annotations

import re
from functools import cache

from invented_briefs import (
    CATALOGUE,
    RULEBOOK,
    athlete,
    brief,
    changed,
    lines,
    planned,
    resolved,
    sessions,
    text,
)
from speedloom.planning.clash import Clash
from speedloom.planning.past import past_day
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.workflows.plan_programme import plan_programme


@cache
def with_number(rule: str, number: str, value: float) -> Programme:
    """Plan four weeks with one number of the book changed, and added mass of 4 kg chosen for jumps."""
    data = brief(
        athlete(in_training=True),
        end="2026-02-08",
        phases={"mesocycle_weeks": [4], "deload": "last", "taper_days": 0, "plyometric_added_kg": [0, 4, 4]},
        exercises={"prefer": ["front_plank", "nordic_isometric_hold", "adductor_squeeze"]},
        rules=[{"rule": rule, "number": number, "value": value, "reason": "a test of the book"}],
    )
    found = resolved(data)
    made = plan_programme(found, rulebook=RULEBOOK.with_changes(found.rules), catalogue=CATALOGUE)
    assert not isinstance(made, Clash)
    return made


def test_most_sets_of_a_main_lift() -> None:
    usual = max(
        line.sets
        for line in lines(planned(brief(athlete(in_training=True), end="2026-02-08")))
        if line.method == "maximal_strength"
    )
    fewer = with_number("main_lift_dose", "sets_most", 2)
    assert usual > 2
    assert max(line.sets for line in lines(fewer) if line.method == "maximal_strength") == 2


def test_most_sets_of_power() -> None:
    fewer = with_number("power_dose", "sets_most", 1)
    assert {line.sets for line in lines(fewer) if line.method == "power"} == {1}


def test_the_hold_of_a_line() -> None:
    longer = with_number("general_strength_dose", "hold_s", 40)
    held = {line.hold_s for line in lines(longer) if line.method == "general_strength"} - {None}
    assert held == {40}


def test_the_hold_of_a_hamstring_groin_or_calf_line() -> None:
    longer = with_number("hamstring_dose", "hold_s", 35)
    held = {line.hold_s for line in lines(longer) if line.method == "hamstring_groin_calf"} - {None}
    assert held == {35}


def test_the_step_of_added_mass() -> None:
    added = {line.added_kg for line in lines(with_number("plyometric_dose", "added_step_kg", 2))} - {None}
    assert added
    assert all(kg % 2 == 0 for kg in added)
    assert any(kg % 2.5 for kg in added)


def test_lanes_that_a_place_does_not_name() -> None:
    def nameless(data: dict[str, object]) -> None:
        for place in data["places"]:  # type: ignore[attr-defined]
            place.pop("lanes", None)

    squad = brief(*(athlete(f"a{number}") for number in range(5)), end="2026-01-18")
    data = changed(squad, nameless)
    data["rules"] = [{"rule": "session_minutes", "number": "lanes", "value": 2, "reason": "a narrow park"}]
    found = resolved(data)
    made = plan_programme(found, rulebook=RULEBOOK.with_changes(found.rules), catalogue=CATALOGUE)
    assert not isinstance(made, Clash)
    turns = [
        node.value for node in made.basis.values() if "rule:session_minutes.lanes" in node.inputs.values()
    ]
    assert set(turns) == {3}


def test_what_counts_as_a_fast_day() -> None:
    programme = with_number("main_lift_dose", "sets_most", 5)
    places = {place.ref: place for place in resolved(brief(athlete())).places}
    session = next(
        one for one in sessions(programme) if any(line.run == "acceleration" for line in one.prescriptions)
    )
    slower = session.model_copy(
        update={
            "prescriptions": tuple(
                line.model_copy(update={"effort": 0.92}) for line in session.prescriptions if line.run
            )
        }
    )
    fast = [past_day(slower, places=places, fast=share) for share in (0.90, 0.95)]
    assert [day.easy for day in fast if day is not None] == [False, True]


def test_weeks_of_a_return_are_as_many_as_the_book_has_cuts() -> None:
    whole = RULEBOOK.rule("return_after_break")
    numbers = {name: entry for name, entry in whole.numbers.items() if name != "cut_4"}
    rules = tuple(
        rule.model_copy(update={"numbers": numbers}) if rule is whole else rule for rule in RULEBOOK.rules
    )
    shorter = Rulebook(rules=rules, sources=RULEBOOK.sources)
    assert [last_week_back(book) for book in (RULEBOOK, shorter)] == [4, 3]


def last_week_back(book: Rulebook) -> int:
    """Count the weeks of a return."""
    data = brief(athlete(weeks_off=3), end="2026-03-08")
    made = plan_programme(resolved(data), rulebook=book, catalogue=CATALOGUE)
    assert not isinstance(made, Clash)
    return len(set(re.findall(r"return_after_break\.cut_\d", text(made))))
