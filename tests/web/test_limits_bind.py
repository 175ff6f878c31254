"""A clinician's limit binds what is newer or older: an edit, undo, an earlier revision, the API."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.test import Client

import invented_briefs
from field_entries import client
from invented_squads import Squads
from speedloom.store import athletes, programmes
from speedloom.store.api_tokens import make_token
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.document import digest
from speedloom.training.programme import Programme
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
    limited(squads, 0)
    assert above(squads, planned) > 0
    typed = {"reason": "again", "after": digest(planned)}
    client(squads.by_role["coach"]).post(f"{home}solve-again/", typed)
    made = newest(squads, planned)
    assert made.revision.number == 2
    assert above(squads, made) == 0
