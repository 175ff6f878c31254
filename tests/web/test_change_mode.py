"""Change mode: forms that swap, add, take out and copy; the check answers; nothing typed is lost."""

from __future__ import annotations

import json
from html import unescape
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client

import invented_briefs
from invented_squads import PASSWORD, Squads
from speedloom.planning.edited import Change
from speedloom.store import programmes
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.edit import edit
from speedloom.workflows.group import Found, found

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture(scope="module")
def planned() -> Programme:
    people = [
        invented_briefs.athlete(in_training=True, name="Ada Example"),
        invented_briefs.athlete("bea", in_training=True, name="Bea Example"),
    ]
    data = invented_briefs.brief(
        *people, start="2027-01-11", end="2027-02-07", phases={"mesocycle_weeks": [4], "taper_days": 0}
    )
    return invented_briefs.planned(data)


@pytest.fixture
def coach(squads: Squads) -> Client:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["coach"].login, "password": PASSWORD})
    return client


@pytest.fixture
def home(squads: Squads, planned: Programme) -> str:
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    return f"/squads/{squads.ours}/programmes/{planned.id}/"


def at(programme: Programme, exercise: str, *, week: int = 3, athlete: str = "ada") -> Found:
    """Find an athlete's first line of an exercise in a week."""
    return next(
        one
        for _, one in found(programme)
        if (one.athlete, one.week.number) == (athlete, week) and one.line and one.line.exercise == exercise
    )


def ref(programme: Programme, exercise: str, **more: Any) -> str:  # noqa: ANN401 - a week or an athlete
    line = at(programme, exercise, **more).line
    assert line is not None
    return line.ref


def words(page: HttpResponse) -> str:
    return " ".join(unescape(page.content.decode()).split())


def newest(squads: Squads, programme: Programme) -> Programme:
    return programmes.read_programme(squads.keeper, squads.ours, programme.id)


def own_line(programme: Programme, *, reps: str, minutes: str) -> dict[str, str]:
    """Give what is typed for a line of the coach's own."""
    line = {"exercise": "own_line", "method": "technique", "sets": "1", "reps": reps, "minutes": minutes}
    return line | {"cue": "Relay", "reason": "Relay", "after": digest(programme)}


def exercises(programme: Programme, athlete: str, week: int) -> list[str]:
    own = next(one for one in programme.programmes if one.athlete == athlete)
    return [line.exercise for session in own.weeks[week - 1].sessions for line in session.prescriptions]


def test_the_week_offers_what_can_be_done_with_lines_sessions_and_the_week(
    coach: Client, home: str, planned: Programme
) -> None:
    page = words(coach.get(f"{home}?athlete=ada&week=3"))  # type: ignore[arg-type]
    line, session = ref(planned, "back_squat"), at(planned, "back_squat").session.ref
    for one in (f"swap/{line}/", f"remove/{line}/", f"add/{session}/", f"remove/{session}/", "copy-week/"):
        assert f'href="{home}{one}' in page, one
    assert f'href="{home}solve-again/?athlete=ada' in page


def test_a_swap_for_the_group_is_saved_and_says_what_changed(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    where = f"{home}swap/{ref(planned, 'back_squat')}/"
    assert "Front squat" in words(coach.get(where))  # type: ignore[arg-type]
    sent = {"exercise": "front_squat", "group": "on", "reason": "No rack", "after": digest(planned)}
    page = coach.post(where, sent, follow=True)
    assert page.redirect_chain[-1][0].endswith("&revision=2#week")  # type: ignore[attr-defined]
    made = newest(squads, planned)
    assert all("front_squat" in exercises(made, one, 3) for one in ("ada", "bea"))
    assert made.revision.reason == "No rack"
    assert "Front squat added" in words(page)  # type: ignore[arg-type]


def test_a_form_with_something_wrong_keeps_all_that_was_typed(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    session = at(planned, "acceleration_run").session.ref
    sent = {
        "exercise": "own_line",
        "sets": "two",
        "minutes": "9",
        "cue": "Relay",
        "reason": "Relay",
        "after": digest(planned),
    }
    page = coach.post(f"{home}add/{session}/", sent)
    said = words(page)  # type: ignore[arg-type]
    assert page.status_code == 422
    assert "Sets: " in said
    for typed in ('value="two"', 'value="9"', 'value="Relay"', '<option value="own_line" selected>'):
        assert typed in said, typed
    assert newest(squads, planned) == planned


def test_a_line_of_ones_own_is_added(coach: Client, squads: Squads, home: str, planned: Programme) -> None:
    session = at(planned, "acceleration_run").session.ref
    sent = own_line(planned, reps="4", minutes="8")
    assert coach.post(f"{home}add/{session}/", sent).status_code == 302
    (line,) = [
        one.line for _, one in found(newest(squads, planned)) if one.line and one.line.exercise == "own_line"
    ]
    assert (line.reps, line.minutes, line.cue, line.method) == (4, 8.0, "Relay", "technique")


def test_what_makes_a_session_too_long_is_refused_as_the_check_says_it(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    session = at(planned, "back_squat").session.ref
    page = coach.post(f"{home}add/{session}/", own_line(planned, reps="1", minutes="45"))
    said = words(page)  # type: ignore[arg-type]
    assert page.status_code == 422
    assert "slot_minutes" in said
    assert "A hard rule does not allow this; nothing was saved." in said
    assert 'value="45"' in said
    assert newest(squads, planned) == planned


def test_the_check_says_what_a_change_did_and_what_it_undid(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    line = at(planned, "back_squat").line
    assert line is not None
    where = f"{home}change/{line.ref}/"
    short = coach.post(where, {"rest_s": "30", "reason": "Late", "after": digest(planned)}, follow=True)
    said = words(short)  # type: ignore[arg-type]
    assert "Now also to look at: Ada Example, week 3" in said
    assert "short_rest" in said
    made = newest(squads, planned)
    sent = {"rest_s": str(line.rest_s), "reason": "Time", "unlock": "on", "after": digest(made)}
    long = words(coach.post(where, sent, follow=True))  # type: ignore[arg-type]
    assert "No longer: Ada Example, week 3" in long
    assert "Now also" not in long


def test_a_hard_rule_refuses_and_keeps_what_was_typed(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    line = at(planned, "back_squat").line
    assert line is not None
    sent = {"load_kg": "151.3", "reason": "Heavy", "after": digest(planned)}
    page = coach.post(f"{home}change/{line.ref}/", sent)
    assert page.status_code == 422
    assert "A hard rule does not allow this; nothing was saved." in words(page)  # type: ignore[arg-type]
    assert 'value="151.3"' in words(page)  # type: ignore[arg-type]
    assert newest(squads, planned) == planned


def test_a_session_is_taken_out(coach: Client, squads: Squads, home: str, planned: Programme) -> None:
    session = at(planned, "back_squat").session
    assert "The whole session is taken out" in words(coach.get(f"{home}remove/{session.ref}/"))  # type: ignore[arg-type]
    coach.post(f"{home}remove/{session.ref}/", {"reason": "Away", "after": digest(planned)})
    assert session.ref not in dict(found(newest(squads, planned)))


def test_a_session_is_moved_for_everybody_who_has_it(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    session = at(planned, "back_squat").session
    where = f"{home}change/{session.ref}/"
    assert "and the one other who has this session" in words(coach.get(where))  # type: ignore[arg-type]
    sent = {
        "date": session.date.isoformat(),
        "start": "16:30",
        "group": "on",
        "reason": "Hall",
        "after": digest(planned),
    }
    assert coach.post(where, sent).status_code == 302
    starts = {
        one.athlete: one.session.start.strftime("%H:%M")
        for _, one in found(newest(squads, planned))
        if one.session.date == session.date
    }
    assert starts == {"ada": "16:30", "bea": "16:30"}


def test_what_is_locked_is_named_with_why_and_who_and_asked_for(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    line = at(planned, "back_squat").line
    assert line is not None
    held = edit(
        planned, [Change(line.ref, "sets", line.sets - 1)], reason="Her hip", rulebook=load_rulebook()
    )
    programmes.save_programme(squads.keeper, squads.ours, held, after=digest(planned))
    where = f"{home}change/{line.ref}/"
    said = words(coach.get(where))  # type: ignore[arg-type]
    assert "Locked: sets (“Her hip”, " in said
    sent = {"sets": str(line.sets), "reason": "Better", "after": digest(held)}
    page = coach.post(where, sent)
    assert page.status_code == 422
    assert "locked at" in words(page)  # type: ignore[arg-type]
    assert coach.post(where, sent | {"unlock": "on"}).status_code == 302
    assert newest(squads, planned).revision.number == 3


def test_a_week_is_copied(coach: Client, squads: Squads, home: str, planned: Programme) -> None:
    form = words(coach.get(f"{home}copy-week/?athlete=ada&week=2"))  # type: ignore[arg-type]
    assert "Copy week 2 of Ada Example" in form
    sent = {"athlete": "ada", "week": "2", "target": "3", "reason": "Good week", "after": digest(planned)}
    assert coach.post(f"{home}copy-week/", sent).status_code == 302
    made = newest(squads, planned)
    assert exercises(made, "ada", 3) == exercises(planned, "ada", 2)
    assert exercises(made, "bea", 3) == exercises(planned, "bea", 3)


def test_a_programme_is_given_to_another_athlete(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    line = ref(planned, "back_squat")
    coach.post(f"{home}swap/{line}/", {"exercise": "front_squat", "reason": "x", "after": digest(planned)})
    made = newest(squads, planned)
    form = words(coach.get(f"{home}copy/?athlete=ada&week=3"))  # type: ignore[arg-type]
    assert "Bea Example" in form
    sent = {"athlete": "ada", "target": "bea", "since": "2027-01-18", "reason": "Same", "after": digest(made)}
    assert coach.post(f"{home}copy/", sent).status_code == 302
    assert "front_squat" in exercises(newest(squads, planned), "bea", 3)
    nobody = coach.post(f"{home}copy/", sent | {"target": "", "after": digest(newest(squads, planned))})
    assert nobody.status_code == 422


def test_solving_again_shows_the_difference_before_anything_is_saved(
    coach: Client, squads: Squads, home: str, planned: Programme
) -> None:
    where = f"{home}solve-again/"
    assert "Nothing changed" not in words(coach.get(f"{where}?athlete=ada"))  # type: ignore[arg-type]
    assert "Nothing changed" in words(coach.post(where, {"athlete": "ada", "look": "1"}))  # type: ignore[arg-type]
    line = at(planned, "inverted_row").line
    assert line is not None
    held = edit(planned, [Change(line.ref, "sets", 9)], reason="More rows", rulebook=load_rulebook())
    programmes.save_programme(squads.keeper, squads.ours, held, after=digest(planned))
    page = coach.post(where, {"athlete": "ada", "look": "1"})
    assert "fewer sets" in words(page)  # type: ignore[arg-type]
    assert newest(squads, planned) == held
    sent = {"athlete": "ada", "reason": "Around the rows", "after": digest(held)}
    assert coach.post(where, sent).status_code == 302
    made = newest(squads, planned)
    assert (made.revision.number, made.revision.cause) == (3, "replan")
    assert made.revision.reason == "Around the rows"
    assert dict(found(made))[line.ref].line.sets == 9  # type: ignore[union-attr]


def test_a_part_of_the_page_is_asked_for_and_leads_back(coach: Client, home: str, planned: Programme) -> None:
    where = f"{home}remove/{ref(planned, 'back_squat')}/"
    part = coach.get(where, **HTMX)
    assert "<html" not in words(part)  # type: ignore[arg-type]
    saved = coach.post(where, {"reason": "x", "after": digest(planned)}, **HTMX)
    assert saved.status_code == 204
    assert saved["HX-Redirect"].endswith("#week")


def test_somebody_was_quicker(coach: Client, squads: Squads, home: str, planned: Programme) -> None:
    sent = {"reason": "Mine", "after": "sha256:other"}
    page = coach.post(f"{home}remove/{ref(planned, 'back_squat')}/", sent)
    assert page.status_code == 409
    assert 'value="Mine"' in words(page)  # type: ignore[arg-type]
    assert json.dumps(newest(squads, planned).revision.number) == "1"
