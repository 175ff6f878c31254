"""Revisions: undone, done again, compared two by two and brought back; nothing is ever lost."""

from __future__ import annotations

from datetime import UTC, datetime
from html import unescape

import pytest
from django.http import HttpResponse
from django.test import Client

import invented_briefs
from invented_squads import PASSWORD, PROGRAMME, Squads
from speedloom.planning.edited import Change
from speedloom.store import programmes
from speedloom.store.cards import RevisionCard
from speedloom.training.document import digest
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.pages.programme.steps import REASONS, steps
from speedloom.workflows.compare import compare
from speedloom.workflows.edit import edit


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


def last_line(programme: Programme) -> tuple[str, int]:
    """Give a line of the last week that has sets, with their number."""
    lines = [
        line
        for session in programme.programmes[0].weeks[-1].sessions
        for line in session.prescriptions
        if line.purpose == "work" and line.sets and line.sets > 1
    ]
    return lines[-1].ref, int(lines[-1].sets or 0)


@pytest.fixture
def changed(squads: Squads, planned: Programme) -> Programme:
    """Store a programme with one change by hand: one set less, in the last week."""
    programmes.save_programme(squads.keeper, squads.ours, planned, name="Planned")
    ref, sets = last_line(planned)
    made = edit(planned, [Change(ref, "sets", sets - 1)], reason="tired", rulebook=load_rulebook())
    programmes.save_programme(squads.keeper, squads.ours, made, after=digest(planned))
    return made


def home(squads: Squads, programme: Programme) -> str:
    return f"/squads/{squads.ours}/programmes/{programme.id}/"


def words(page: object) -> str:
    return unescape(page.content.decode())  # type: ignore[attr-defined]


def newest(squads: Squads, programme: Programme) -> Programme:
    return programmes.read_programme(squads.keeper, squads.ours, programme.id)


def sets_of(programme: Programme, ref: str) -> int:
    (found,) = [
        line.sets
        for week in programme.programmes[0].weeks
        for session in week.sessions
        for line in session.prescriptions
        if line.ref == ref
    ]
    return int(found or 0)


def pressed(client: Client, squads: Squads, programme: Programme, way: str) -> HttpResponse:
    """Press undo or redo as the page has it."""
    card = programmes.programme_card(squads.keeper, squads.ours, programme.id)
    return client.post(f"{home(squads, programme)}{way}/?athlete=ada&week=4", {"after": card.digest})


def test_undo_says_what_it_would_change_and_changes_nothing_yet(
    coach: Client, squads: Squads, planned: Programme, changed: Programme
) -> None:
    assert "Undo" in words(coach.get(home(squads, changed)))
    page = words(coach.get(f"{home(squads, changed)}undo/"))
    assert "Revision 2: tired" in page
    _, sets = last_line(planned)
    assert f"sets {sets - 1} → {sets}" in page
    assert newest(squads, changed).revision.number == 2


def test_undo_and_redo_are_revisions_and_end_where_they_began(
    coach: Client, squads: Squads, planned: Programme, changed: Programme
) -> None:
    ref, sets = last_line(planned)
    assert sets_of(newest(squads, changed), ref) == sets - 1
    answer = pressed(coach, squads, changed, "undo")
    assert answer["Location"] == f"{home(squads, changed)}?athlete=ada&week=4"
    undone = newest(squads, changed)
    assert (undone.revision.number, undone.revision.cause) == (3, "restore")
    assert not compare(undone, planned)
    assert compare(undone, changed)
    assert "Redo" in words(coach.get(home(squads, changed)))
    pressed(coach, squads, changed, "redo")
    again = newest(squads, changed)
    assert again.revision.number == 4
    assert not compare(again, changed)
    assert "nothing to do again" in words(coach.get(f"{home(squads, changed)}redo/"))


def test_undoing_everything_stops_at_the_first(coach: Client, squads: Squads, changed: Programme) -> None:
    pressed(coach, squads, changed, "undo")
    page = words(coach.get(f"{home(squads, changed)}undo/"))
    assert "nothing to undo" in page
    pressed(coach, squads, changed, "undo")
    assert newest(squads, changed).revision.number == 3


def test_somebody_quicker_is_not_undone(coach: Client, squads: Squads, changed: Programme) -> None:
    answer = coach.post(f"{home(squads, changed)}undo/", {"after": "sha256:older"})
    assert answer.status_code == 409
    assert newest(squads, changed).revision.number == 2


def test_who_only_looks_undoes_nothing(squads: Squads, changed: Programme) -> None:
    client = Client()
    client.post("/sign-in/", {"login": squads.by_role["assistant"].login, "password": PASSWORD})
    assert ">Undo<" not in words(client.get(home(squads, changed)))
    assert pressed(client, squads, changed, "undo").status_code == 403


def card(number: int, cause: str = "edit", reason: str = "") -> RevisionCard:
    return RevisionCard(
        number=number, digest="", parent=None, cause=cause, reason=reason, by="coach", at=datetime.now(tz=UTC)
    )


UNDO, REDO = REASONS["undo"], REASONS["redo"]


@pytest.mark.parametrize(
    ("line", "undo", "redo"),
    [
        ((card(1, "plan"),), None, None),
        ((card(1, "plan"), card(2)), (1, 2), None),
        ((card(1, "plan"), card(2), card(3)), (2, 3), None),
        ((card(1, "plan"), card(2), card(3), card(4, "restore", f"{UNDO} 3")), (1, 2), (3, 3)),
        (
            (card(1, "plan"), card(2), card(3, "restore", f"{UNDO} 2"), card(4, "restore", f"{REDO} 2")),
            (1, 2),
            None,
        ),
        ((card(1, "plan"), card(2), card(3, "restore", f"{UNDO} 2"), card(4)), (1, 4), None),
        # A revision brought back by its number is a change like any other, and so is one that only says undo.
        ((card(1, "plan"), card(2), card(3, "restore", "Revision 1 again")), (2, 3), None),
        ((card(1, "plan"), card(2), card(3, "edit", f"{UNDO} 2")), (2, 3), None),
    ],
)
def test_where_undo_and_redo_lead(
    line: tuple[RevisionCard, ...], undo: tuple[int, int] | None, redo: tuple[int, int] | None
) -> None:
    found = {way: (step.back, step.about.number) for way, step in steps(line[::-1]).items()}
    assert found.get("undo") == undo
    assert found.get("redo") == redo


def test_any_two_revisions_stand_beside_each_other(
    coach: Client, squads: Squads, planned: Programme, changed: Programme
) -> None:
    _, sets = last_line(planned)
    page = words(coach.get(f"{home(squads, changed)}revisions/compare/?one=1&other=2"))
    assert f"<td>{sets}</td><td>{sets - 1}</td>" in page
    back = words(coach.get(f"{home(squads, changed)}revisions/compare/?one=2&other=1"))
    assert f"<td>{sets - 1}</td><td>{sets}</td>" in back
    same = words(coach.get(f"{home(squads, changed)}revisions/compare/?one=2&other=2"))
    assert "the same revision" in same
    chosen = words(coach.get(f"{home(squads, changed)}revisions/compare/?one=9&other=soon"))
    assert "Revisions 1 and 2" in chosen


def test_a_revision_is_brought_back_by_its_number(
    coach: Client, squads: Squads, planned: Programme, changed: Programme
) -> None:
    where = f"{home(squads, changed)}revisions/1/"
    assert "What bringing it back would change" in words(coach.get(where))
    coach.post(where, {"reason": "as it was"})
    back = newest(squads, changed)
    assert back.revision.reason == "as it was"
    assert not compare(back, planned)


@pytest.mark.usefixtures("squads")
def test_a_programme_made_by_hand_says_why_it_cannot(coach: Client, squads: Squads) -> None:
    where = f"/squads/{squads.ours}/programmes/{PROGRAMME}/undo/"
    assert "nothing to undo" in words(coach.get(where))


def test_squares_lead_to_the_change_form_for_who_may_change(
    coach: Client, squads: Squads, changed: Programme
) -> None:
    ref, _ = last_line(changed)
    page = words(coach.get(home(squads, changed)))
    table = page.partition('class="progression"')[2].partition("</table>")[0]
    assert f"/change/{ref}/" in table
    viewer = Client()
    viewer.post("/sign-in/", {"login": squads.by_role["viewer"].login, "password": PASSWORD})
    assert "/change/" not in words(viewer.get(home(squads, changed)))


def test_squares_of_days_that_are_over_are_no_links(
    squads: Squads, coach: Client, planned: Programme
) -> None:
    first, last = planned.programmes[0].weeks[0], planned.programmes[0].weeks[-1]
    frozen = planned.revision.model_copy(update={"frozen_until": first.sessions[-1].date})
    programmes.save_programme(squads.keeper, squads.ours, planned.model_copy(update={"revision": frozen}))
    table = (
        words(coach.get(home(squads, planned))).partition('class="progression"')[2].partition("</table>")[0]
    )
    over, ahead = (
        [line.ref for session in week.sessions for line in session.prescriptions] for week in (first, last)
    )
    assert not any(f"/change/{ref}/" in table for ref in over)
    assert any(f"/change/{ref}/" in table for ref in ahead)


def test_somebody_without_weeks_is_passed_over(squads: Squads, coach: Client, planned: Programme) -> None:
    ada = planned.programmes[0]
    nobody = ada.model_copy(update={"athlete": "aaron", "weeks": (), "retired": ()})
    both = planned.model_copy(update={"programmes": (nobody, ada)})
    programmes.save_programme(squads.keeper, squads.ours, both, name="Undone")
    page = coach.get(home(squads, planned))
    assert page.status_code == 200
    assert "Progression of Ada Example" in words(page)
    assert "aaron" not in words(page)
