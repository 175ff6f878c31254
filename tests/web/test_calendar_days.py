"""Training days and peaks changed on the calendar: what it would move is said before anything is saved."""

from __future__ import annotations

import json
from datetime import date
from html import unescape

import pytest
from django.test import Client

import invented_briefs
from invented_squads import PASSWORD, Squads
from speedloom.store import athletes, briefs, programmes
from speedloom.training.athlete import Athlete
from speedloom.training.calendar import Peak, Slot
from speedloom.training.kit import Place
from speedloom.training.programme import Programme
from speedloom.web.pages.calendar.moved import Change, NewSlot, moved

DAY = {"day": "tuesday", "start": "17:30", "minutes": "60", "place": "hall", "from_": "", "until": ""}


@pytest.fixture(scope="module")
def planned() -> Programme:
    people = [invented_briefs.athlete(in_training=True, name="Ada Example")]
    data = invented_briefs.brief(*people, end="2026-02-08", phases={"mesocycle_weeks": [4], "taper_days": 0})
    return invented_briefs.planned(data)


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


@pytest.fixture
def with_programme(squads: Squads, planned: Programme) -> Programme:
    ada = json.dumps(invented_briefs.athlete(in_training=True, name="Ada Example"))
    athletes.add_athlete(squads.keeper, squads.ours, Athlete.model_validate_json(ada))
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    return planned


def here(squads: Squads, rest: str) -> str:
    return f"/squads/{squads.ours}/calendar/{rest}"


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def slots(squads: Squads) -> dict[str, Slot]:
    return {slot.ref: slot for slot in briefs.brief(squads.keeper, squads.ours).brief.slots}


def peaks(squads: Squads) -> tuple[Peak, ...]:
    return briefs.brief(squads.keeper, squads.ours).brief.goal.peaks


def test_a_training_day_is_added_changed_and_removed(coach: Client, squads: Squads) -> None:
    assert "Monday" in words(coach.get(here(squads, "")))
    page = coach.post(here(squads, "add-day/"), DAY, follow=True)
    assert "No programme lies on these days" in words(page)
    assert slots(squads)["tue_hall_1"].minutes == 60
    where = here(squads, "days/tue_hall_1/")
    assert 'value="17:30"' in words(coach.get(where))
    coach.post(where, DAY | {"minutes": "90", "from_": "2026-01-20", "open": "on", "after": "2"})
    changed = slots(squads)["tue_hall_1"]
    assert (changed.minutes, changed.from_, changed.open) == (90, date(2026, 1, 20), True)
    assert list(slots(squads)) == ["mon", "tue_hall_1"]
    coach.post(where, {"remove": "yes", "after": "3"})
    assert list(slots(squads)) == ["mon"]
    assert coach.get(where).status_code == 404


def test_a_day_that_cannot_be_comes_back_as_typed(coach: Client, squads: Squads) -> None:
    wrong = DAY | {"from_": "2026-01-20", "until": "2026-01-19", "minutes": "9"}
    page = coach.post(here(squads, "add-day/"), wrong)
    assert page.status_code == 422
    assert "Expected the first day or a later one" in words(page)
    assert 'value="9"' in words(page)
    assert list(slots(squads)) == ["mon"]


def test_nobody_is_in_two_places_at_once(coach: Client, squads: Squads) -> None:
    page = coach.post(here(squads, "add-day/"), DAY | {"day": "monday", "start": "18:30"})
    assert page.status_code == 422
    assert "Expected" in words(page).partition('class="card faults"')[2]
    assert list(slots(squads)) == ["mon"]


@pytest.mark.usefixtures("with_programme")
def test_what_a_new_day_would_move_is_said_and_nothing_is_saved(coach: Client, squads: Squads) -> None:
    page = coach.post(here(squads, "add-day/"), DAY)
    assert "What this would move" in words(page)
    assert "Tuesday 17:30, hall, 60 min added" in words(page)
    assert list(slots(squads)) == ["mon"]
    again = coach.post(here(squads, "add-day/"), DAY | {"do": "again"})
    assert 'value="17:30"' in words(again)


def test_day_and_revision_are_saved_together(
    coach: Client, squads: Squads, with_programme: Programme
) -> None:
    card = programmes.programme_card(squads.keeper, squads.ours, with_programme.id)
    page = coach.post(here(squads, "add-day/"), DAY | {"do": "accept", "programme": card.digest})
    assert page["Location"] == f"/squads/{squads.ours}/programmes/{with_programme.id}/"
    assert "tue_hall_1" in slots(squads)
    made = programmes.read_programme(squads.keeper, squads.ours, with_programme.id)
    assert made.revision.number == 2
    assert made.brief.content is not None
    assert "tue_hall_1" in {slot.ref for slot in made.brief.content.slots}


@pytest.mark.usefixtures("with_programme")
def test_a_day_taken_away_takes_its_sessions(squads: Squads, planned: Programme) -> None:
    content = planned.brief.content
    assert content is not None
    gone = content.slots[0]
    change = Change(((content.start, content.end),), "one day less", slot=NewSlot(gone.ref))
    found = moved(squads.by_role["coach"], squads.ours, change, today=date(2026, 1, 20))
    assert found is not None
    assert found.made is not None
    left = {
        session.slot
        for week in found.made.programmes[0].weeks
        for session in week.sessions
        if session.date > date(2026, 1, 20)
    }
    assert gone.ref not in left
    assert left


def test_a_place_the_programme_does_not_know_comes_with_the_day(planned: Programme) -> None:
    content = planned.brief.content
    assert content is not None
    park = Place(ref="park", kind="grass", straight_m=60.0, run_out_m=20.0)
    new = content.slots[0].model_copy(update={"ref": "park_day", "place": "park"})
    changed = Change((), "", slot=NewSlot("park_day", new, park)).applied(content)
    assert "park" in {place.ref for place in changed.places}
    assert len(changed.slots) == len(content.slots) + 1


def test_peaks_are_set_and_emptied(coach: Client, squads: Squads) -> None:
    where = here(squads, "peaks/")
    coach.post(
        where,
        {
            "rows": "2",
            "row0-date": "2026-02-07",
            "row0-size": "main",
            "row1-date": "2026-01-25",
            "row1-size": "minor",
        },
    )
    assert peaks(squads) == (
        Peak(date=date(2026, 1, 25), size="minor"),
        Peak(date=date(2026, 2, 7), size="main"),
    )
    assert "minor peak" in words(coach.get(here(squads, "?month=2026-01")))
    coach.post(where, {"rows": "2", "row0-date": "", "row1-date": "2026-02-07", "row1-size": "main"})
    assert peaks(squads) == (Peak(date=date(2026, 2, 7), size="main"),)


def test_a_peak_outside_the_season_is_said(coach: Client, squads: Squads) -> None:
    page = coach.post(here(squads, "peaks/"), {"rows": "1", "row0-date": "2027-02-07", "row0-size": "main"})
    assert page.status_code == 422
    assert "Expected" in words(page).partition('class="card faults"')[2]
    assert peaks(squads) == ()


@pytest.mark.usefixtures("with_programme")
def test_what_a_peak_would_move_is_said(coach: Client, squads: Squads) -> None:
    page = coach.post(here(squads, "peaks/"), {"rows": "1", "row0-date": "2026-02-06", "row0-size": "minor"})
    assert "What this would move" in words(page)
    assert "Peaks on Fri 6 Feb" in words(page)
    assert peaks(squads) == ()


def test_an_assistant_changes_neither(squads: Squads) -> None:
    client = Client()
    client.post("/sign-in/", {"login": "assistant", "password": PASSWORD})
    assert "Add a training day" not in words(client.get(here(squads, "")))
    assert client.get(here(squads, "peaks/")).status_code == 403
    assert client.post(here(squads, "add-day/"), DAY).status_code == 403
