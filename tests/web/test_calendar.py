"""The calendar: what lies where, and what a change would move is said before anything is saved."""

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
from speedloom.training.calendar import Away
from speedloom.training.programme import Programme
from speedloom.web.pages.calendar.moved import Change, moved

MATCH = {"kind": "match", "title": "Cup", "date": "2026-01-26", "until": "", "start": "15:00", "training": ""}


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


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def events(squads: Squads) -> list[str]:
    return [event.title for event in briefs.brief(squads.keeper, squads.ours).brief.events]


def test_a_month_shows_slots_events_and_the_programmes_weeks(coach: Client, squads: Squads) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/calendar/?month=2026-01"))
    assert "January 2026" in page
    assert "18:00 hall, 75 min" in page
    assert "Spring evening (other)" in page


def test_the_season_shows_a_row_a_week(coach: Client, squads: Squads) -> None:
    page = words(coach.get(f"/squads/{squads.ours}/calendar/?view=season"))
    assert page.count('<th scope="row" class="number">') == 4
    assert "Tue: Spring evening (other)" in page


@pytest.mark.parametrize("month", ["2026-13", "0000-01", "soon", "9999-12", ""])
def test_a_month_that_is_none_shows_another(coach: Client, squads: Squads, month: str) -> None:
    assert coach.get(f"/squads/{squads.ours}/calendar/?month={month}").status_code == 200


def test_an_event_is_saved_at_once_where_no_programme_is_planned(coach: Client, squads: Squads) -> None:
    page = coach.post(f"/squads/{squads.ours}/calendar/add-event/", MATCH, follow=True)
    assert "No programme lies on these days" in words(page)
    assert events(squads) == ["Spring evening", "Cup"]


def test_an_event_that_cannot_be_comes_back_as_typed(coach: Client, squads: Squads) -> None:
    typed = MATCH | {"until": "2026-01-25", "start": "noon"}
    page = coach.post(f"/squads/{squads.ours}/calendar/add-event/", typed)
    assert page.status_code == 422
    assert "Expected the first day or a later one" in words(page)
    assert 'value="noon"' in words(page)
    assert events(squads) == ["Spring evening"]


@pytest.mark.usefixtures("with_programme")
def test_what_a_match_would_move_is_said_and_nothing_is_saved(coach: Client, squads: Squads) -> None:
    page = coach.post(f"/squads/{squads.ours}/calendar/add-event/", MATCH)
    assert "What this would move" in words(page)
    assert "Cup (match) new, Mon 26 Jan" in words(page)
    assert "Mon 26 Jan, track, Ada Example: session left out." in words(page)
    assert events(squads) == ["Spring evening"]
    again = coach.post(f"/squads/{squads.ours}/calendar/add-event/", MATCH | {"do": "again"})
    assert 'value="Cup"' in words(again)


def test_only_the_calendar_is_saved(coach: Client, squads: Squads, with_programme: Programme) -> None:
    coach.post(f"/squads/{squads.ours}/calendar/add-event/", MATCH | {"do": "save"})
    assert events(squads) == ["Spring evening", "Cup"]
    card = programmes.programme_card(squads.keeper, squads.ours, with_programme.id)
    assert card.revision == 1


def test_calendar_and_revision_are_saved_together(
    coach: Client, squads: Squads, with_programme: Programme
) -> None:
    card = programmes.programme_card(squads.keeper, squads.ours, with_programme.id)
    typed = MATCH | {"do": "accept", "programme": card.digest}
    page = coach.post(f"/squads/{squads.ours}/calendar/add-event/", typed)
    assert page["Location"] == f"/squads/{squads.ours}/programmes/{with_programme.id}/"
    assert events(squads) == ["Spring evening", "Cup"]
    made = programmes.read_programme(squads.keeper, squads.ours, with_programme.id)
    assert made.revision.number == 2
    assert made.revision.reason == "Cup (match) 15:00 added"
    assert made.brief.content is not None
    assert "Cup" in {event.title for event in made.brief.content.events}


@pytest.mark.usefixtures("with_programme")
def test_a_revision_saved_meanwhile_is_not_written_over(coach: Client, squads: Squads) -> None:
    typed = MATCH | {"do": "accept", "programme": "sha256:older"}
    page = coach.post(f"/squads/{squads.ours}/calendar/add-event/", typed)
    assert "Somebody saved another revision" in words(page)
    assert events(squads) == ["Spring evening"]


def test_an_event_is_changed_and_removed_by_its_number(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/calendar/events/1/"
    assert 'value="Spring evening"' in words(coach.get(where))
    coach.post(where, MATCH | {"title": "Summer evening"})
    assert events(squads) == ["Summer evening"]
    stale = coach.post(where, {"remove": "yes", "after": "1"})
    assert stale.status_code == 409
    coach.post(where, {"remove": "yes", "after": "2"})
    assert events(squads) == []
    assert coach.get(where).status_code == 404


def test_absences_are_added_changed_and_removed(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/calendar/absences/mila/"
    coach.post(
        where, {"rows": "2", "row0-date": "2026-01-19", "row1-date": "2026-01-26", "row1-until": "2026-01-28"}
    )
    away = athletes.athlete(squads.keeper, squads.ours, "mila").athlete.away
    assert away == (Away(date=date(2026, 1, 19)), Away(date=date(2026, 1, 26), until=date(2026, 1, 28)))
    assert "Mila away" in words(coach.get(f"/squads/{squads.ours}/calendar/?month=2026-01"))
    coach.post(where, {"rows": "2", "row0-date": "", "row1-date": "2026-01-26"})
    assert athletes.athlete(squads.keeper, squads.ours, "mila").athlete.away == (
        Away(date=date(2026, 1, 26)),
    )


def test_an_absence_without_a_first_day_is_said_at_its_place(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/calendar/absences/mila/"
    page = coach.post(where, {"rows": "1", "row0-until": "2026-01-28"})
    assert page.status_code == 422
    assert "Missing." in words(page)
    assert 'value="2026-01-28"' in words(page)


@pytest.mark.usefixtures("with_programme")
def test_days_away_leave_out_the_sessions_of_that_athlete(squads: Squads) -> None:
    away = Away(date=date(2026, 1, 26), until=date(2026, 1, 27))
    change = Change(((away.date, date(2026, 1, 27)),), "away", athlete="ada", come=(away,))
    coach = squads.by_role["coach"]
    found = moved(coach, squads.ours, change, today=date(2026, 1, 20))
    assert found is not None
    assert found.made is not None
    assert found.made.revision.frozen_until == date(2026, 1, 20)
    assert "Ada Example: away Mon 26 and Tue 27 Jan" in " ".join(found.lines)
    days = {session.date for week in found.made.programmes[0].weeks for session in week.sessions}
    assert not days & {date(2026, 1, 26), date(2026, 1, 27)}
    assert all("speedloom" not in line for line in found.lines)


@pytest.mark.usefixtures("with_programme")
def test_somebody_who_is_not_in_the_programme_moves_nothing(squads: Squads) -> None:
    away = Away(date=date(2026, 1, 26))
    change = Change(((away.date, away.date),), "away", athlete="noa", come=(away,))
    assert moved(squads.by_role["coach"], squads.ours, change, today=date(2026, 1, 20)) is None


def test_an_assistant_looks_and_changes_nothing(squads: Squads) -> None:
    client = Client()
    client.post("/sign-in/", {"login": "assistant", "password": PASSWORD})
    page = words(client.get(f"/squads/{squads.ours}/calendar/"))
    assert "Add an event" not in page
    assert "No days away are known" in words(client.get(f"/squads/{squads.ours}/calendar/absences/mila/"))
    assert client.post(f"/squads/{squads.ours}/calendar/absences/mila/", {"rows": "0"}).status_code == 403
