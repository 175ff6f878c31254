"""A clinician's limit binds what is newer or older: an edit, undo, an earlier revision, the API."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.test import Client

import invented_briefs
from field_entries import client
from invented_squads import Squads
from speedloom.store import athletes, models, programmes
from speedloom.store.api_tokens import make_token
from speedloom.store.restrictions import restrictions, set_restriction
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.calendar import Event
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.web.pages.calendar.moved import Change, moved
from speedloom.web.pages.programme.hard_limits import held_now
from speedloom.wording.books import books_of
from speedloom.workflows.beyond_limits import beyond_limits

RUN = "acceleration_run"
REFUSED = 422


@pytest.fixture(scope="module")
def planned() -> Programme:
    ada = invented_briefs.athlete(in_training=True, name="Ada Example")
    spring = {"start": "2027-01-11", "end": "2027-02-07"}
    phases = {"mesocycle_weeks": [4], "taper_days": 0}
    return invented_briefs.planned(invented_briefs.brief(ada, **spring, phases=phases))


@pytest.fixture
def home(squads: Squads, planned: Programme, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2027, 1, 12, 12, tzinfo=UTC))
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    content = planned.brief.content
    assert content
    for one in content.athletes:
        athletes.add_athlete(squads.keeper, squads.ours, one)
    return f"/squads/{squads.ours}/programmes/{planned.id}/"


def limited(squads: Squads, at_most: int) -> None:
    limit = Limit(what="sets", at_most=at_most, exercise=RUN)
    day = date(2027, 1, 11)
    said = {"set_by": "Physio", "set_as": "clinician", "set_on": day, "from": day}
    new = Restriction.model_validate({"ref": "phys", "limits": (limit,), **said})
    set_restriction(squads.by_role["clinician"], squads.ours, "ada", new)


def newest(squads: Squads, planned: Programme) -> Programme:
    return programmes.read_programme(squads.keeper, squads.ours, planned.id)


def above(squads: Squads, programme: Programme) -> int:
    rulebook, catalogue = books_of(programme)
    held = held_now(squads.keeper, squads.ours, programme)
    return len(
        beyond_limits(programme, held, since=date(2027, 1, 13), rulebook=rulebook, catalogue=catalogue)
    )


def planned_again(squads: Squads, home: str, planned: Programme) -> Programme:
    coach = client(squads.by_role["coach"])
    typed = {"since": "2027-01-13", "reason": "limit"}
    coach.get(f"{home}replan/", typed)
    coach.post(f"{home}replan/", {**typed, "after": digest(newest(squads, planned))})
    made = newest(squads, planned)
    assert made.revision.number == 2
    assert above(squads, made) == 0
    return made


@pytest.mark.parametrize("way", ["undo/", "revisions/1/"])
def test_earlier_work_above_a_limit_does_not_come_back(
    squads: Squads, planned: Programme, home: str, way: str
) -> None:
    limited(squads, 0)
    made = planned_again(squads, home, planned)
    answer = client(squads.by_role["coach"]).post(f"{home}{way}", {"after": digest(made), "reason": "back"})
    assert answer.status_code == REFUSED
    assert "nothing was saved" in answer.content.decode()
    assert newest(squads, planned).revision.number == 2


def test_a_change_of_the_calendar_goes_by_the_limit(squads: Squads, planned: Programme, home: str) -> None:
    assert home
    limited(squads, 0)
    match = Event(kind="match", title="Cup", date=date(2027, 1, 20))
    change = Change(days=((match.date, match.date),), reason="cup", events=(match,))
    found = moved(squads.by_role["coach"], squads.ours, change, today=date(2027, 1, 12))
    assert found
    assert found.made
    assert above(squads, planned) > 0
    assert above(squads, found.made) == 0


def test_planning_again_drops_no_limit_that_only_the_document_holds(
    squads: Squads, planned: Programme, home: str
) -> None:
    """The store lost sight of it: nobody has lifted it all the same."""
    said = {"set_by": "Physio", "set_as": "clinician", "from": date(2027, 1, 11)}
    limits = (Limit(what="sets", at_most=0, exercise=RUN),)
    held = Restriction.model_validate({"ref": "calf", "limits": limits, **said})
    with_it = of_a_file(planned, held)
    programmes.save_programme(squads.keeper, squads.ours, with_it, name="From a file")
    models.Restriction.objects.filter(athlete__squad__key=squads.ours).delete()
    coach, page = client(squads.by_role["coach"]), home.replace(planned.id, with_it.id) + "replan/"
    typed = {"since": "2027-01-13", "reason": "again"}
    assert "lifted" not in coach.get(page, typed).content.decode().partition("What is new")[2]
    coach.post(page, {**typed, "after": digest(newest(squads, with_it))})
    made = newest(squads, with_it)
    assert made.revision.number == 2
    assert above(squads, made) == 0
    assert made.brief.content
    assert made.brief.content.athletes[0].restrictions == (held,)
    (card,) = restrictions(squads.keeper, squads.ours)
    assert (card.restriction, card.came_with) == (held, "From a file")
    said_there = client(squads.by_role["clinician"]).get(f"/squads/{squads.ours}/athletes/ada/restrictions/")
    assert "came with the programme From a file" in said_there.content.decode()
    assert "Lift this restriction" in said_there.content.decode()


def of_a_file(planned: Programme, held: Restriction) -> Programme:
    """Make another programme of the same weeks, whose brief holds a limit that the weeks do not keep."""
    content = planned.brief.content
    assert content
    ada = content.athletes[0].model_copy(update={"restrictions": (held,)})
    brief = planned.brief.model_copy(update={"content": content.model_copy(update={"athletes": (ada,)})})
    return planned.model_copy(update={"id": "fedcba987654", "brief": brief})


def line_of(programme: Programme) -> tuple[str, int]:
    return next(
        (line.ref, line.sets)
        for _, session in programme.sessions()
        for line in session.prescriptions
        if line.exercise == RUN and session.date > date(2027, 1, 18) and line.purpose == "work"
    )


def test_an_edit_above_a_limit_that_is_newer_is_refused(
    squads: Squads, planned: Programme, home: str
) -> None:
    ref, sets = line_of(planned)
    limited(squads, sets)
    typed = {"sets": str(sets + 1), "reason": "more", "after": digest(planned)}
    answer = client(squads.by_role["coach"]).post(f"{home}change/{ref}/", typed)
    assert answer.status_code == REFUSED
    assert newest(squads, planned).revision.number == 1


def test_the_api_refuses_it_too(squads: Squads, planned: Programme, home: str) -> None:
    ref, sets = line_of(planned)
    limited(squads, sets)
    key = {"Authorization": f"Bearer {make_token(squads.by_role['coach'], title='a test')[1]}"}
    change = {"ref": ref, "field": "sets", "value": sets + 1}
    sent = {"after": digest(planned), "reason": "more", "changes": [change]}
    answer = Client().post(f"/api{home}changes", sent, content_type="application/json", headers=key)
    assert answer.status_code == REFUSED
    assert newest(squads, planned).revision.number == 1


def test_solving_again_goes_by_the_limit(squads: Squads, planned: Programme, home: str) -> None:
    coach = client(squads.by_role["coach"])
    coach.post(f"{home}solve-again/", {"look": "1"})  # what was looked at is kept, and rests on older limits
    limited(squads, 0)
    assert above(squads, planned) > 0
    typed = {"reason": "again", "after": digest(planned)}
    coach.post(f"{home}solve-again/", typed)
    made = newest(squads, planned)
    assert made.revision.number == 2
    assert above(squads, made) == 0
