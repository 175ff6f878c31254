"""What is asked before hard work: a clinician's "not cleared" stands until a clinician changes it."""

from __future__ import annotations

import re
from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection

from field_entries import client
from invented_squads import Squads
from speedloom.store import models
from speedloom.store.athletes import screening
from speedloom.store.cards import Role
from speedloom.store.exporting import export_athlete
from speedloom.store.screenings import not_cleared
from speedloom.store.squads import audit

REFUSED = 422
YES = {"pain": "no", "cleared": "yes"}
NO = {"pain": "no", "cleared": "no"}


def said(squads: Squads, role: Role, **typed: str) -> int:
    where = f"/squads/{squads.ours}/athletes/mila/asked/"
    return client(squads.by_role[role]).post(where, typed).status_code


def cleared(squads: Squads) -> bool | None:
    asked = screening(squads.keeper, squads.ours, "mila")
    return asked.cleared if asked else None


def page(squads: Squads, role: Role) -> str:
    answer = client(squads.by_role[role]).get(f"/squads/{squads.ours}/athletes/mila/restrictions/")
    return re.sub(r"\s+", " ", answer.content.decode())


@pytest.mark.parametrize("role", ["owner", "coach"])
def test_nobody_else_clears_whom_a_clinician_has_not(squads: Squads, role: Role) -> None:
    said(squads, "clinician", **NO)
    assert said(squads, role, **YES) == REFUSED
    assert cleared(squads) is False
    told = page(squads, role)
    assert "The clinician (clinician) wrote on" in told
    assert "The clearance waits for a clinician" in told
    assert 'name="cleared"' not in told
    assert said(squads, role, pain="yes", last_hard_sprint="2026-01-02") == 302
    asked = screening(squads.keeper, squads.ours, "mila")
    assert asked
    assert (asked.pain, asked.cleared, str(asked.last_hard_sprint)) == (True, False, "2026-01-02")
    assert said(squads, role, **YES) == REFUSED, "what others wrote after it changes nothing"
    assert not_cleared(squads.keeper, squads.ours)["mila"].by == "The clinician"


def test_a_clinician_changes_it_and_then_a_coach_answers_again(squads: Squads) -> None:
    said(squads, "clinician", **NO)
    assert 'name="cleared"' in page(squads, "clinician")
    assert said(squads, "clinician", **YES) == 302
    assert cleared(squads) is True
    assert said(squads, "coach", **NO) == 302
    assert said(squads, "coach", **YES) == 302
    assert "by The coach (coach)" in page(squads, "coach")
    details = [one.detail for one in audit(squads.keeper, squads.ours) if one.action == "record_clearance"]
    assert details == [
        "hard work cleared, as coach",
        "hard work not cleared, as coach",
        "hard work cleared, as clinician",
        "hard work not cleared, as clinician",
    ]
    roles = [one["role"] for one in export_athlete(squads.keeper, squads.ours, "mila")["asked"]]
    assert roles == ["clinician", "clinician", "coach", "coach"]


def test_without_a_clinician_the_page_says_what_to_do(squads: Squads) -> None:
    said(squads, "clinician", **NO)
    models.Membership.objects.filter(role="clinician").delete()
    assert "the owner can invite one" in page(squads, "coach")
    assert said(squads, "coach", **YES) == REFUSED


@pytest.mark.parametrize("typed", [{"all_well": "on"}, {"mila-pain": "no", "mila-cleared": "yes"}])
def test_a_new_programme_goes_no_way_around_it(squads: Squads, typed: dict[str, str]) -> None:
    said(squads, "clinician", **NO)
    where = f"/squads/{squads.ours}/new-programme/"
    coach = client(squads.by_role["coach"])
    first = coach.get(where).content.decode()
    assert "hard work is not cleared" in first
    before = models.ProgrammeRevision.objects.count()
    answer = coach.post(where, {**fields(first), "mila-taken": "on", **typed})
    assert answer.status_code == REFUSED
    assert "leave this athlete out to plan the others" in answer.content.decode()
    assert cleared(squads) is False
    assert models.ProgrammeRevision.objects.count() == before


def fields(text: str) -> dict[str, str]:
    """Give the goal and dates as the page has them."""
    found = dict(re.findall(r'<input[^>]*name="([a-z_]+)"[^>]*value="([^"]*)"', text))
    return {name: value for name, value in found.items() if name != "csrfmiddlewaretoken"}


@pytest.mark.parametrize("role", ["assistant", "athlete", "viewer"])
def test_others_write_no_answers(squads: Squads, role: Role) -> None:
    assert said(squads, role, **YES) == 403
    assert cleared(squads) is None


def test_an_update_of_the_tables_finds_a_clinicians_answers_again(squads: Squads) -> None:
    said(squads, "clinician", **NO)
    models.Asked.objects.all().erase()
    models.Audit.objects.filter(action="record_clearance").rewrite(detail="not cleared")
    assert not_cleared(squads.keeper, squads.ours) == {}
    step = import_module("speedloom.store.migrations.0005_asked")
    step.find_again(apps, SimpleNamespace(connection=connection))
    assert not_cleared(squads.keeper, squads.ours)["mila"].by == "The clinician"
    assert said(squads, "coach", **YES) == REFUSED


@pytest.mark.parametrize("gone", ["from the squad", "altogether", "a coach has left"])
def test_an_update_holds_a_no_of_somebody_who_has_left_as_a_clinicians(squads: Squads, gone: str) -> None:
    """Whose role is not to be found again may have been a clinician; a no is not taken for less."""
    role: Role = "coach" if gone == "a coach has left" else "clinician"
    said(squads, role, **NO)
    models.Asked.objects.all().erase()
    models.Audit.objects.filter(action="record_clearance").rewrite(detail="not cleared")
    models.Membership.objects.filter(person_id=squads.by_role[role].person).delete()
    if gone == "altogether":
        models.Person.objects.filter(pk=squads.by_role[role].person).delete()
    step = import_module("speedloom.store.migrations.0005_asked")
    step.find_again(apps, SimpleNamespace(connection=connection))
    assert "mila" in not_cleared(squads.keeper, squads.ours)
    assert said(squads, "owner", **YES) == REFUSED


def test_an_update_makes_nobody_a_clinician_by_a_yes(squads: Squads) -> None:
    said(squads, "clinician", **YES)
    models.Asked.objects.all().erase()
    models.Audit.objects.filter(action="record_clearance").rewrite(detail="cleared")
    models.Membership.objects.filter(role="clinician").delete()
    step = import_module("speedloom.store.migrations.0005_asked")
    step.find_again(apps, SimpleNamespace(connection=connection))
    assert models.Asked.objects.get().role == "viewer"
    assert said(squads, "coach", **NO) == 302
    assert said(squads, "coach", **YES) == 302
