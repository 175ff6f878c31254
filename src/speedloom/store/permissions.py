"""Who may do what: one table of role by action, deny by default. Pure: no database, no Django."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args

from speedloom.store.cards import ROLES, Actor, Membership, Role
from speedloom.store.refusals import NotAllowedError, NotThereError

SiteAction = Literal["make_squad", "keep_site"]
Action = Literal[
    "make_squad",
    "keep_site",
    "see_squad",
    "see_calendar",
    "see_kit",
    "see_rules",
    "change_squad",
    "change_rules",
    "see_people",
    "manage_people",
    "invite_athlete",
    "see_athlete",
    "change_athlete",
    "see_tests",
    "write_tests",
    "strike_test",
    "see_health",
    "set_restriction",
    "lift_restriction",
    "record_clearance",
    "see_wellness",
    "write_wellness",
    "see_notes",
    "write_notes",
    "see_programme",
    "make_programme",
    "change_programme",
    "hand_out",
    "share_link",
    "see_log",
    "write_log",
    "stop_athlete",
    "review",
    "see_audit",
    "export_athlete",
    "erase_athlete",
    "export_squad",
    "erase_squad",
]
Reach = Literal["all", "own", "none"]

ACTIONS: tuple[Action, ...] = get_args(Action)
SITE_ACTIONS: tuple[SiteAction, ...] = get_args(SiteAction)
_SIGNS: Mapping[str, Reach] = {"y": "all", "o": "own", "-": "none"}

# One column a role: Owner, Coach, Assistant, Clinician, aThlete, Viewer.
# y: everybody of the squad; o: the athlete's own only; -: no.
#                      O C A K T V
_TABLE: Mapping[Action, str] = {
    "see_squad":        "y y y y - y",
    "see_calendar":     "y y y y - y",
    "see_kit":          "y y y y - y",
    "see_rules":        "y y y y - y",
    "change_squad":     "y y - - - -",
    "change_rules":     "y y - - - -",
    "see_people":       "y y - - - -",
    "manage_people":    "y - - - - -",
    "invite_athlete":   "y y - - - -",
    "see_athlete":      "y y y y o y",
    "change_athlete":   "y y - - - -",
    "see_tests":        "y y y y o y",
    "write_tests":      "y y y - - -",
    "strike_test":      "y y - - - -",
    "see_health":       "y y y y o -",
    "set_restriction":  "y y y y o -",  # anyone on the field may stop or limit at once
    "lift_restriction": "y y - y - -",  # and only what may_lift() says
    "record_clearance": "y y - y - -",
    "see_wellness":     "y y - y o -",
    "write_wellness":   "- - - - o -",
    "see_notes":        "y y y y - -",
    "write_notes":      "y y y y - -",
    "see_programme":    "y y y y o y",
    "make_programme":   "y y - - - -",
    "change_programme": "y y - - - -",
    "hand_out":         "y y y - - -",
    "share_link":       "y y - - o -",
    "see_log":          "y y y y o y",
    "write_log":        "y y y - o -",
    "stop_athlete":     "y y y y o -",
    "review":           "y y - y - y",
    "see_audit":        "y y - - - -",
    "export_athlete":   "y y - - o -",
    "erase_athlete":    "y - - - - -",
    "export_squad":     "y y - - - -",
    "erase_squad":      "y - - - - -",
}  # fmt: skip

LOOKING: frozenset[Action] = frozenset(
    action for action in ACTIONS if action.startswith("see_") or action == "review"
)
"""Actions that change nothing: somebody limited to some athletes may look at the squad, cut to those."""


def reach(role: Role, action: Action) -> Reach:
    """Say how far a role reaches with an action; what has no row reaches nobody."""
    signs = _TABLE.get(action, "").split()
    return _SIGNS[signs[ROLES.index(role)]] if signs else "none"


def allowed(actor: Actor, action: Action, *, squad: str | None = None, athlete: str | None = None) -> bool:
    """Say whether a person may do something on the site, in a squad, or about one athlete of it.

    Without `athlete` the whole squad is meant: an athlete's own reach does not hold it, and a membership
    limited to some athletes holds it for looking only.
    """
    if action in SITE_ACTIONS:
        return actor.keeper
    membership = actor.of(squad) if squad is not None else None
    if membership is None:
        return False
    far = reach(membership.role, action)
    if athlete is None:
        return far == "all" and (not membership.only or action in LOOKING)
    return _holds(membership, far, athlete)


def _holds(membership: Membership, far: Reach, athlete: str) -> bool:
    if far == "own":
        return membership.athlete == athlete
    return far == "all" and (not membership.only or athlete in membership.only)


def within(actor: Actor, action: Action, *, squad: str) -> frozenset[str] | None:
    """Give the athletes a person reaches with an action in a squad; None is everybody."""
    membership = actor.of(squad)
    if membership is None:
        return frozenset()
    far = reach(membership.role, action)
    if far == "own":
        return frozenset({membership.athlete} if membership.athlete else ())
    if far == "none":
        return frozenset()
    return frozenset(membership.only) or None


def require(actor: Actor, action: Action, *, squad: str | None = None, athlete: str | None = None) -> None:
    """Let a permitted action pass.

    Raises:
        NotThereError: the squad is not the person's own; whether it exists is not said.
        NotAllowedError: the role does not reach this far.
    """
    if allowed(actor, action, squad=squad, athlete=athlete):
        return
    if action not in SITE_ACTIONS and (squad is None or actor.of(squad) is None):
        raise NotThereError("There is no such squad among yours; was the link sent to another account?")
    doing = action.replace("_", " ")
    raise NotAllowedError(f"Your role does not allow this ({doing}); ask the owner of the squad.")


def may_lift(
    actor: Actor, *, squad: str, athlete: str, set_as: str, set_by: int | None, set_in: Role
) -> bool:
    """Say whether a person may lift a restriction.

    A clinician's a clinician only; a coach's that coach too; one that the assistant or the athlete set on the
    field any coach, since nobody who set it could.
    """
    membership = actor.of(squad)
    if membership is None or not allowed(actor, "lift_restriction", squad=squad, athlete=athlete):
        return False
    if membership.role == "clinician":
        return True
    on_the_field = set_in in {"assistant", "athlete"}
    return set_as == "coach" and (on_the_field or set_by == actor.person)
