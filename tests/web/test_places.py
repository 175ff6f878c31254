"""Places and kit: added, changed, removed; what is in use stays, and what was typed comes back."""

from __future__ import annotations

import pytest
from django.test import Client

from invented_squads import PASSWORD, Squads
from speedloom.store import briefs, people
from speedloom.training.brief import Brief
from speedloom.training.kit import Friction

SLED = {
    "name": "Grass sled",
    "kind": "sled",
    "place": "hall",
    "count": "2",
    "empty_kg": "12,5",
    "pieces": "plates",
    "friction": "range",
    "low": "0.3",
    "high": "0.45",
    "rows": "3",
    "row0-mass": "5",
    "row0-pieces": "4",
    "row1-mass": "20",
    "row1-pieces": "2",
}


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


def brief_of(squads: Squads) -> Brief:
    return briefs.brief(squads.keeper, squads.ours).brief


def test_a_place_is_added_under_a_plain_name(coach: Client, squads: Squads) -> None:
    place = {"name": "Spórts Hall 2", "kind": "track", "straight_m": "60 m", "run_out_m": "20", "lanes": "6"}
    page = coach.post(f"/squads/{squads.ours}/places/add-place/", place, follow=True)
    assert "Sports hall 2 is saved." in page.content.decode()
    new = brief_of(squads).places[-1]
    assert (new.ref, new.kind, new.straight_m, new.run_out_m, new.lanes) == (
        "sports_hall_2", "track", 60.0, 20.0, 6,
    )  # fmt: skip


def test_what_is_wrong_is_said_at_its_field_and_nothing_typed_is_lost(coach: Client, squads: Squads) -> None:
    place = {"name": "Hall", "kind": "hall", "straight_m": "forty", "run_out_m": "10", "lanes": "0"}
    page = coach.post(f"/squads/{squads.ours}/places/add-place/", place)
    text = page.content.decode()
    assert page.status_code == 422
    assert "There is one of this name already" in text
    assert "Expected a number in m, got forty" in text.replace("&#x27;", "'")
    assert 'value="forty"' in text
    assert len(brief_of(squads).places) == 1


def test_a_run_out_is_a_part_of_the_straight(coach: Client, squads: Squads) -> None:
    place = {"name": "Yard", "kind": "turf", "straight_m": "20", "run_out_m": "20"}
    page = coach.post(f"/squads/{squads.ours}/places/add-place/", place)
    assert "less than the straight" in page.content.decode()


def test_kit_is_added_with_its_plates_heaviest_first(coach: Client, squads: Squads) -> None:
    coach.post(f"/squads/{squads.ours}/places/add-kit/", SLED)
    new = brief_of(squads).kit[-1]
    assert new.ref == "grass_sled"
    assert new.empty_kg == 12.5
    assert new.plates_kg == ((20.0, 2), (5.0, 4))
    assert new.friction == Friction(low=0.3, high=0.45)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"empty_kg": ""}, "loads are reckoned from it"),
        ({"high": "0.2"}, "more than the least"),
        ({"friction": "timed"}, "Missing"),
        ({"row2-mass": "10"}, "Missing"),
        ({"place": "moon"}, "valid choice"),
        ({"row0-mass": "5 yd"}, "kg, lb"),
    ],
)
def test_kit_that_cannot_be_is_refused(
    coach: Client, squads: Squads, typed: dict[str, str], said: str
) -> None:
    page = coach.post(f"/squads/{squads.ours}/places/add-kit/", SLED | typed)
    assert page.status_code == 422
    assert said in page.content.decode()
    assert "Grass sled" in page.content.decode()
    assert len(brief_of(squads).kit) == 1


def test_a_timed_friction_keeps_the_range_that_was_known_before(coach: Client, squads: Squads) -> None:
    coach.post(f"/squads/{squads.ours}/places/add-kit/", SLED)
    timed = SLED | {"friction": "timed", "value": "0.38", "se": "0.02"}
    coach.post(f"/squads/{squads.ours}/places/kit/grass_sled/", timed)
    assert brief_of(squads).kit[-1].friction == Friction(value=0.38, se=0.02, low=0.3, high=0.45)


def test_what_nobody_typed_anew_is_not_rounded_in_other_units(coach: Client, squads: Squads) -> None:
    coach.post(f"/squads/{squads.ours}/places/add-kit/", SLED | {"row0-mass": "2.5"})
    people.set_units(squads.by_role["coach"], mass="lb", length="yd")
    page = coach.get(f"/squads/{squads.ours}/places/kit/grass_sled/").content.decode()
    assert "Empty, lb" in page
    assert 'value="5.5"' in page
    shown = {**SLED, "empty_kg": "27.6", "row0-mass": "44.1", "row0-pieces": "2", "row1-mass": "5.5"}
    coach.post(f"/squads/{squads.ours}/places/kit/grass_sled/", shown | {"row1-pieces": "4"})
    new = brief_of(squads).kit[-1]
    assert (new.empty_kg, new.plates_kg) == (12.5, ((20.0, 2), (2.5, 4)))


def test_a_place_in_use_is_not_removed_and_it_says_why(coach: Client, squads: Squads) -> None:
    page = coach.post(f"/squads/{squads.ours}/places/place/hall/", {"remove": "yes"})
    assert page.status_code == 422
    assert "The slot mon lies there" in page.content.decode()
    assert "Sled stands there" in page.content.decode()
    assert len(brief_of(squads).places) == 1


def test_kit_that_nothing_uses_is_removed(coach: Client, squads: Squads) -> None:
    page = coach.post(f"/squads/{squads.ours}/places/kit/sled/", {"remove": "yes"}, follow=True)
    assert "Sled is removed." in page.content.decode()
    assert brief_of(squads).kit == ()


def test_an_older_page_writes_over_nothing(coach: Client, squads: Squads) -> None:
    was = briefs.brief(squads.keeper, squads.ours)
    changed = was.brief.model_copy(update={"name": "Autumn"})
    briefs.save_brief(squads.keeper, squads.ours, changed, after=was.number)
    page = coach.post(f"/squads/{squads.ours}/places/add-kit/", {**SLED, "after": str(was.number)})
    assert page.status_code == 409
    assert len(brief_of(squads).kit) == 1
