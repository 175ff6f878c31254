"""The table of who may do what, cell by cell, and that it reaches nobody else's squad."""

from __future__ import annotations

import subprocess
import sys

import pytest

from speedloom.store.cards import ROLES, Actor, Membership, Role
from speedloom.store.permissions import (
    ACTIONS,
    LOOKING,
    SITE_ACTIONS,
    Action,
    allowed,
    may_lift,
    reach,
    require,
    within,
)
from speedloom.store.refusals import NotAllowedError, NotThereError

# Written from DESIGN.md 1 (who uses it) by role, not copied from the table, which goes by action.
SQUAD_WIDE: dict[Role, set[str]] = {
    "viewer": {
        "see_squad", "see_calendar", "see_kit", "see_rules", "see_athlete", "see_tests", "see_programme",
        "see_log", "review",
    },
    "clinician": {
        "see_squad", "see_calendar", "see_kit", "see_rules", "see_athlete", "see_tests", "see_programme",
        "see_log", "review", "see_health", "see_wellness", "set_restriction", "lift_restriction",
        "record_clearance", "stop_athlete", "see_notes", "write_notes",
    },
    "assistant": {
        "see_squad", "see_calendar", "see_kit", "see_rules", "see_athlete", "see_tests", "see_programme",
        "see_log", "see_health", "set_restriction", "stop_athlete", "write_tests", "write_log", "hand_out",
        "see_notes", "write_notes",
    },
    "athlete": set(),
}  # fmt: skip
SQUAD_WIDE["coach"] = (
    SQUAD_WIDE["clinician"]
    | SQUAD_WIDE["assistant"]
    | {
        "change_squad", "change_rules", "see_people", "invite_athlete", "change_athlete", "strike_test",
        "make_programme", "change_programme", "share_link", "see_audit", "export_athlete", "export_squad",
    }
)  # fmt: skip
SQUAD_WIDE["owner"] = SQUAD_WIDE["coach"] | {"manage_people", "erase_athlete", "erase_squad"}
OWN = {
    "see_athlete", "see_tests", "see_health", "set_restriction", "see_wellness", "write_wellness",
    "see_programme", "share_link", "see_log", "write_log", "stop_athlete", "export_athlete",
}  # fmt: skip
IN_A_SQUAD = [action for action in ACTIONS if action not in SITE_ACTIONS]


def actor(role: Role | None, *, only: tuple[str, ...] = (), keeper: bool = False) -> Actor:
    athlete = "mila" if role == "athlete" else None
    mine = (Membership(squad="ours", role=role, athlete=athlete, only=only),) if role else ()
    return Actor(person=7, login="one", name="One", keeper=keeper, memberships=mine)


@pytest.mark.parametrize("action", IN_A_SQUAD)
@pytest.mark.parametrize("role", ROLES)
def test_every_cell(role: Role, action: Action) -> None:
    who, wide = actor(role), action in SQUAD_WIDE[role]
    own = role == "athlete" and action in OWN
    assert allowed(who, action, squad="ours") is wide
    assert allowed(who, action, squad="ours", athlete="mila") is (wide or own)
    assert allowed(who, action, squad="ours", athlete="noa") is wide
    assert not allowed(who, action, squad="theirs")
    assert not allowed(who, action, squad="theirs", athlete="mila")
    assert not allowed(who, action)
    assert within(who, action, squad="theirs") == frozenset()


@pytest.mark.parametrize("action", IN_A_SQUAD)
@pytest.mark.parametrize("role", ["coach", "assistant", "clinician"])
def test_a_role_for_some_athletes_looks_at_the_squad_and_acts_for_those_only(
    role: Role, action: Action
) -> None:
    who, wide = actor(role, only=("mila",)), action in SQUAD_WIDE[role]
    assert allowed(who, action, squad="ours", athlete="mila") is wide
    assert not allowed(who, action, squad="ours", athlete="noa")
    assert allowed(who, action, squad="ours") is (wide and action in LOOKING)
    assert within(who, action, squad="ours") == (frozenset({"mila"}) if wide else frozenset())


@pytest.mark.parametrize("action", SITE_ACTIONS)
@pytest.mark.parametrize("role", [*ROLES, None])
def test_the_site_is_the_keepers(role: Role | None, action: Action) -> None:
    assert allowed(actor(role, keeper=True), action)
    assert not allowed(actor(role), action, squad="ours")


@pytest.mark.parametrize("action", IN_A_SQUAD)
def test_a_keeper_is_nobody_in_the_squads_of_others(action: Action) -> None:
    assert not allowed(actor(None, keeper=True), action, squad="ours", athlete="mila")


def test_what_has_no_row_reaches_nobody() -> None:
    unknown: Action = "fly"  # type: ignore[assignment]
    assert {reach(role, unknown) for role in ROLES} == {"none"}
    assert not allowed(actor("owner"), unknown, squad="ours")


def test_another_squad_is_not_there_and_a_role_too_small_is_not_allowed() -> None:
    with pytest.raises(NotThereError):
        require(actor("owner"), "see_squad", squad="theirs")
    with pytest.raises(NotAllowedError):
        require(actor("viewer"), "change_squad", squad="ours")
    require(actor("viewer"), "see_squad", squad="ours")


@pytest.mark.parametrize(
    ("role", "set_as", "set_by", "set_in", "may"),
    [
        ("clinician", "clinician", 1, "clinician", True),
        ("clinician", "coach", 1, "coach", True),
        ("coach", "coach", 7, "coach", True),
        ("coach", "coach", 1, "coach", False),
        ("owner", "coach", 1, "coach", False),
        ("owner", "coach", 7, "owner", True),
        ("coach", "clinician", 1, "clinician", False),
        ("coach", "clinician", 7, "coach", False),
        ("coach", "coach", 1, "assistant", True),
        ("coach", "coach", 1, "athlete", True),
        ("assistant", "coach", 7, "assistant", False),
        ("athlete", "coach", 7, "athlete", False),
        ("viewer", "coach", 7, "coach", False),
    ],
)
def test_who_lifts_a_restriction(role: Role, set_as: str, set_by: int, set_in: Role, *, may: bool) -> None:
    # DESIGN.md 1: only a clinician lifts one a clinician set; a coach's that coach or a clinician.
    who = actor(role)
    assert may_lift(who, squad="ours", athlete="mila", set_as=set_as, set_by=set_by, set_in=set_in) is may


def test_the_table_needs_no_django() -> None:
    code = "import sys\nsys.modules['django'] = None\nimport speedloom.store.permissions\nprint('good')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stdout == "good\n", done.stderr
