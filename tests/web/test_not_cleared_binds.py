"""A clinician's "not cleared" binds every way of planning again, as it binds the page that plans again."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

import invented_briefs
from field_entries import client
from invented_squads import Squads
from speedloom.store import athletes, programmes
from speedloom.store.restrictions import set_restriction
from speedloom.store.screenings import not_cleared
from speedloom.training.athlete import Limit, Restriction, Screening
from speedloom.training.calendar import Event
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.web.pages.calendar.moved import Change, moved

REFUSED = 422
SAID = "Ada Example may not be planned: the brief says of the screening that it was not cleared (rule H1)."


@pytest.fixture(scope="module")
def planned() -> Programme:
    people = (
        invented_briefs.athlete(in_training=True, name="Ada Example"),
        invented_briefs.athlete(in_training=True, name="Bo Example", ref="bo"),
    )
    spring = {"start": "2027-01-11", "end": "2027-02-07"}
    phases = {"mesocycle_weeks": [4], "taper_days": 0}
    return invented_briefs.planned(invented_briefs.brief(*people, **spring, phases=phases))


@pytest.fixture
def home(squads: Squads, planned: Programme, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2027, 1, 12, 12, tzinfo=UTC))
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    assert planned.brief.content
    for one in planned.brief.content.athletes:
        athletes.add_athlete(squads.keeper, squads.ours, one)
    return f"/squads/{squads.ours}/programmes/{planned.id}/"


def said(squads: Squads, *, cleared: bool) -> None:
    answers = Screening(on=date(2027, 1, 12), pain=False, cleared=cleared)
    athletes.record_screening(squads.by_role["clinician"], squads.ours, "ada", answers)
    assert ("ada" in not_cleared(squads.keeper, squads.ours)) is not cleared


def number(squads: Squads, planned: Programme) -> int:
    return programmes.read_programme(squads.keeper, squads.ours, planned.id).revision.number


CUP = {"kind": "match", "title": "Cup", "date": "2027-01-20"}
AGAIN = {"since": "2027-01-13", "reason": "again"}
COPY = {"athlete": "bo", "target": "ada", "since": "2027-01-13", "reason": "like Bo"}


@pytest.mark.parametrize(
    ("way", "typed"),
    [("replan/", AGAIN), ("solve-again/", {"reason": "again"}), ("copy/", COPY)],
)
def test_a_programme_is_not_planned_for_who_is_not_cleared(
    squads: Squads, planned: Programme, home: str, way: str, typed: dict[str, str]
) -> None:
    said(squads, cleared=False)
    answer = client(squads.by_role["coach"]).post(f"{home}{way}", {**typed, "after": digest(planned)})
    assert answer.status_code == REFUSED
    assert SAID in answer.content.decode()
    assert number(squads, planned) == 1


def test_what_was_looked_at_before_is_not_saved_after(squads: Squads, planned: Programme, home: str) -> None:
    said(squads, cleared=True)
    coach = client(squads.by_role["coach"])
    assert coach.post(f"{home}solve-again/", {"look": "1"}).status_code == 200
    said(squads, cleared=False)
    answer = coach.post(f"{home}solve-again/", {"reason": "again", "after": digest(planned)})
    assert answer.status_code == REFUSED
    assert number(squads, planned) == 1


def test_a_change_of_the_calendar_plans_nothing_and_says_why(
    squads: Squads, planned: Programme, home: str
) -> None:
    assert home
    said(squads, cleared=False)
    match = Event(kind="match", title="Cup", date=date(2027, 1, 20))
    change = Change(days=((match.date, match.date),), reason="cup", events=(match,))
    found = moved(squads.by_role["coach"], squads.ours, change, today=date(2027, 1, 12))
    assert found
    assert found.made is None
    assert SAID in found.lines[0]
    form = CUP | {"do": "accept", "programme": found.card.digest}
    answer = client(squads.by_role["coach"]).post(f"/squads/{squads.ours}/calendar/add-event/", form)
    assert SAID in answer.content.decode()
    assert number(squads, planned) == 1


def test_cleared_again_all_of_it_plans(squads: Squads, planned: Programme, home: str) -> None:
    said(squads, cleared=False)
    said(squads, cleared=True)
    match = Event(kind="match", title="Cup", date=date(2027, 1, 20))
    change = Change(days=((match.date, match.date),), reason="cup", events=(match,))
    found = moved(squads.by_role["coach"], squads.ours, change, today=date(2027, 1, 12))
    assert found
    assert found.made
    answer = client(squads.by_role["coach"]).post(f"{home}copy/", {**COPY, "after": digest(planned)})
    assert answer.status_code == 302


def test_one_who_left_the_programme_does_not_come_back_by_restoring(
    squads: Squads, planned: Programme, home: str
) -> None:
    assert planned.brief.content
    without = planned.brief.content.model_copy(update={"athletes": planned.brief.content.athletes[1:]})
    revision = planned.revision.model_copy(
        update={"number": 2, "parent": digest(planned), "cause": "replan", "reason": "Ada rests"}
    )
    second = planned.model_copy(
        update={
            "brief": planned.brief.model_copy(update={"content": without}),
            "programmes": planned.programmes[1:],
            "revision": revision,
        }
    )
    programmes.save_programme(squads.keeper, squads.ours, second, after=digest(planned))
    said(squads, cleared=False)
    coach = client(squads.by_role["coach"])
    for way in ("revisions/1/", "undo/"):
        answer = coach.post(f"{home}{way}", {"after": digest(second), "reason": "back"})
        assert answer.status_code == REFUSED
        assert "not cleared" in answer.content.decode()
    assert number(squads, planned) == 2
    joins = coach.post(f"{home}copy/", {**COPY, "after": digest(second)})
    assert joins.status_code == REFUSED
    assert SAID in joins.content.decode()
    assert number(squads, planned) == 2


def test_limits_of_now_hold_too(squads: Squads, planned: Programme, home: str) -> None:
    limits = (Limit(what="sets", at_most=0, exercise="acceleration_run"),)
    who = {"set_by": "Physio", "set_as": "clinician", "from": date(2027, 1, 11)}
    new = Restriction.model_validate({"ref": "calf", "limits": limits, **who})
    set_restriction(squads.by_role["clinician"], squads.ours, "ada", new)
    typed = {"reason": "again", "after": digest(planned)}
    client(squads.by_role["coach"]).post(f"{home}solve-again/", typed)
    made = programmes.read_programme(squads.keeper, squads.ours, planned.id)
    assert made.revision.number == 2
    assert made.brief.content
    assert made.brief.content.athletes[0].restrictions == (new,)
