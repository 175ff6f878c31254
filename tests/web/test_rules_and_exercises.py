"""Rules and exercises: complete, searched, changed with a reason; a health rule loosened only with a name."""

from __future__ import annotations

from html import unescape

import pytest
from django.test import Client

from invented_squads import PASSWORD, Squads
from speedloom.store import briefs
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import RuleChange, load_rulebook
from speedloom.web.pages.rules.forms import ChangeForm, first_change
from speedloom.web.pages.rules.shown import number_title

GAP = {"number": "gap_h", "value": "72", "reason": "Young squad on a hard floor", "approved_by": ""}
HARD = {"number": "hard_gap_h", "value": "12", "reason": "Two short days", "approved_by": ""}


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def brief_of(squads: Squads) -> Brief:
    return briefs.brief(squads.keeper, squads.ours).brief


def test_every_rule_and_every_source_stands_on_the_page(coach: Client, squads: Squads) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/rules/"))
    assert all(rule.statement in page for rule in load_rulebook().rules)
    assert "doi:10.1186/s40798-019-0221-0" in page


def test_a_search_takes_every_word(coach: Client, squads: Squads) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/rules/?q=Lightning+HEALTH"))
    assert "1 rule found." in page
    assert "try fewer" in words(coach.get(f"/squads/{squads.ours}/rules/?q=xylophone"))


@pytest.mark.parametrize("rule", [rule.id for rule in load_rulebook().rules if rule.numbers][::12])
def test_a_rule_shows_every_number_with_its_value(coach: Client, squads: Squads, rule: str) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/rules/{rule}/"))
    numbers = load_rulebook().rule(rule).numbers
    assert all(number_title(name, number) in page for name, number in numbers.items())
    form = coach.get(f"/squads/{squads.ours}/rules/{rule}/?number={next(iter(numbers))}")
    assert "New value" in words(form)


def test_what_the_form_holds_at_first_is_the_number_itself() -> None:
    for rule in load_rulebook().rules:
        for name, number in rule.numbers.items():
            typed = first_change(number, None) | {"reason": "as it is"}
            form = ChangeForm(typed, number=number)
            assert form.is_valid(), (rule.id, name, form.errors)
            assert form.change(rule.id, name).value == pytest.approx(number.value, rel=1e-5)


def test_a_number_is_changed_with_its_reason_printed_and_put_back(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/rules/sprint_gap/"
    coach.post(where, GAP)
    change = RuleChange(rule="sprint_gap", number="gap_h", value=72.0, reason="Young squad on a hard floor")
    assert brief_of(squads).rules == (change,)
    page = words(coach.get(f"/squads/{squads.ours}/rules/"))
    assert "Changed for this squad" in page
    assert "Young squad on a hard floor" in page
    assert "Changed from 48 h" in words(coach.get(where))
    coach.post(where, {"number": "gap_h", "put_back": "yes"})
    assert brief_of(squads).rules == ()


def test_a_hard_health_rule_is_loosened_only_with_a_name(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/rules/sprint_gap/"
    page = coach.post(where, HARD)
    assert page.status_code == 422
    assert "expected the name of who allows it" in words(page)
    assert 'value="12"' in words(page)
    assert brief_of(squads).rules == ()
    coach.post(where, HARD | {"approved_by": "Dr Sam Example"})
    assert brief_of(squads).rules[0].approved_by == "Dr Sam Example"


def test_a_hard_health_rule_is_made_stricter_by_the_coach(coach: Client, squads: Squads) -> None:
    coach.post(f"/squads/{squads.ours}/rules/sprint_gap/", HARD | {"value": "36 h"})
    assert brief_of(squads).rules[0].value == 36.0


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"value": "three"}, "Expected a number"),
        ({"value": "-5"}, "not negative"),
        ({"reason": ""}, "required"),
        ({"value": "5 kg"}, "Expected a number"),
    ],
)
def test_a_change_that_cannot_be_is_said_at_its_field(
    coach: Client, squads: Squads, typed: dict[str, str], said: str
) -> None:
    page = coach.post(f"/squads/{squads.ours}/rules/sprint_gap/", GAP | typed)
    assert page.status_code == 422
    assert said in words(page)
    assert brief_of(squads).rules == ()


def test_shares_are_typed_in_per_cent(coach: Client, squads: Squads) -> None:
    change = {"number": "speed_share", "value": "102", "reason": "Careful with it", "approved_by": ""}
    coach.post(f"/squads/{squads.ours}/rules/assisted_sprint/", change)
    assert brief_of(squads).rules[0].value == 1.02


def test_who_only_looks_has_no_form(squads: Squads) -> None:
    client = Client()
    client.post("/sign-in/", {"login": "viewer", "password": PASSWORD})
    page = words(client.get(f"/squads/{squads.ours}/rules/sprint_gap/?number=gap_h"))
    assert "New value" not in page
    assert client.post(f"/squads/{squads.ours}/rules/sprint_gap/", GAP).status_code == 403
    assert "Save the choice" not in words(client.get(f"/squads/{squads.ours}/exercises/"))
    assert client.get(f"/squads/{squads.ours}/rules/no_such_rule/").status_code == 404


def test_every_exercise_stands_on_the_page_and_a_search_finds_some(coach: Client, squads: Squads) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/exercises/"))
    assert all(one.name in page for one in load_catalogue().exercises)
    few = words(coach.get(f"/squads/{squads.ours}/exercises/?q=sled&method=resisted_sprint"))
    assert "Back squat" not in few
    assert "choice-sled_sprint" in few


def test_exercises_are_preferred_and_left_out_and_the_rest_stays(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/exercises/"
    coach.post(where, {"choice-depth_jump": "leave_out", "choice-trap_bar_deadlift": "prefer"})
    coach.post(where, {"choice-back_squat": "prefer", "choice-no_such": "prefer", "choice-nordic": "often"})
    assert brief_of(squads).exercises.leave_out == ("depth_jump",)
    assert brief_of(squads).exercises.prefer == ("trap_bar_deadlift", "back_squat")
    page = words(coach.get(where))
    assert "Chosen for this squad" in page
    coach.post(where, {"choice-depth_jump": "prefer", "choice-trap_bar_deadlift": ""})
    assert brief_of(squads).exercises.leave_out == ()
    assert brief_of(squads).exercises.prefer == ("back_squat", "depth_jump")
