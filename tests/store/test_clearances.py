"""Written clearances: recorded by who may, taken back, exported and erased; none lifts anything."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils.timezone import localdate

from invented_squads import Squads, limit
from speedloom.store import models
from speedloom.store.cards import ROLES, Role
from speedloom.store.clearances import clearances, record_clearance, take_back_clearance
from speedloom.store.erasing import erase_athlete
from speedloom.store.exporting import export_athlete
from speedloom.store.permissions import allowed
from speedloom.store.refusals import NotAllowedError, NotThereError, RefusedError
from speedloom.store.restrictions import may_lift_this, restrictions, set_restriction


def record(squads: Squads, role: Role = "coach", ref: str = "mila", **other: object) -> int:
    said = {"after": "concussion", "written_by": " Dr  Sam ", "written_on": localdate(), **other}
    return record_clearance(squads.by_role[role], squads.ours, ref, **said).id  # type: ignore[arg-type]


@pytest.mark.parametrize("role", ROLES)
def test_who_may_records_one(role: Role, squads: Squads) -> None:
    if allowed(squads.by_role[role], "record_clearance", squad=squads.ours, athlete="mila"):
        record(squads, role)
        (card,) = clearances(squads.by_role[role], squads.ours)
        assert (card.written_by, card.seen_by) == ("Dr Sam", squads.by_role[role].name)
    else:
        with pytest.raises(NotAllowedError):
            record(squads, role)


def test_it_lifts_nothing(squads: Squads) -> None:
    set_restriction(squads.by_role["coach"], squads.ours, "mila", limit())
    record(squads)
    assert len(restrictions(squads.by_role["coach"], squads.ours)) == 1


@pytest.mark.parametrize(
    ("other", "said"),
    [
        ({"written_by": "  "}, "Expected the name of who wrote"),
        ({"written_on": localdate() + timedelta(days=1)}, "Expected a day that has been"),
    ],
)
def test_what_cannot_be_is_refused(other: dict[str, object], said: str, squads: Squads) -> None:
    with pytest.raises(RefusedError, match=said):
        record(squads, **other)


def test_a_mistake_is_taken_back_once(squads: Squads) -> None:
    number = record(squads)
    take_back_clearance(squads.by_role["clinician"], squads.ours, "mila", number)
    assert clearances(squads.by_role["coach"], squads.ours) == ()
    with pytest.raises(NotThereError):
        take_back_clearance(squads.by_role["clinician"], squads.ours, "mila", number)
    assert models.Clearance.objects.count() == 2


def test_an_athlete_sees_their_own_and_a_viewer_none(squads: Squads) -> None:
    record(squads)
    record(squads, ref="noa", written_by="Dr Zwaluw")
    assert [card.athlete for card in clearances(squads.by_role["athlete"], squads.ours)] == ["mila"]
    assert clearances(squads.by_role["viewer"], squads.ours) == ()
    assert clearances(squads.outsider, squads.ours) == ()


def test_it_is_exported_and_erased_with_the_athlete(squads: Squads) -> None:
    record(squads)
    (kept,) = export_athlete(squads.by_role["coach"], squads.ours, "mila")["clearances"]
    assert (kept["after"], kept["written_by"]) == ("concussion", "Dr Sam")
    erase_athlete(squads.by_role["owner"], squads.ours, "mila")
    assert models.Clearance.objects.count() == 0


def test_a_card_says_who_may_lift_it(squads: Squads) -> None:
    card = set_restriction(squads.by_role["assistant"], squads.ours, "mila", limit())
    may = {role for role in ROLES if may_lift_this(squads.by_role[role], squads.ours, card)}
    assert may == {"owner", "coach", "clinician"}
    assert card.set_in == "assistant"
