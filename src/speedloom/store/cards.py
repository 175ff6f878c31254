"""What leaves the store beside documents: small frozen cards, and the person who acts."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Literal, get_args

from speedloom.training.athlete import Athlete, Restriction, Screening
from speedloom.training.brief import Brief
from speedloom.training.fields import Frozen
from speedloom.training.log import LogEntry

Role = Literal["owner", "coach", "assistant", "clinician", "athlete", "viewer"]
ROLES: tuple[Role, ...] = get_args(Role)


def role_named(name: str) -> Role:
    """Give the role of a name that was stored."""
    return next(role for role in ROLES if role == name)


MassUnit = Literal["kg", "lb"]
LengthUnit = Literal["m", "yd"]


class Membership(Frozen):
    """One person's role in one squad; `only` limits it to some athletes, empty is everybody."""

    squad: str
    role: Role
    athlete: str | None = None
    only: tuple[str, ...] = ()


class Actor(Frozen):
    """The person who acts: who they are, and what they are where."""

    person: int
    login: str
    name: str
    keeper: bool = False
    mass_unit: MassUnit = "kg"
    length_unit: LengthUnit = "m"
    memberships: tuple[Membership, ...] = ()

    def of(self, squad: str) -> Membership | None:
        """Give the person's membership of a squad, or None for somebody else's squad."""
        return next((one for one in self.memberships if one.squad == squad), None)


class AccountCard(Frozen):
    """An account of the site, as its keeper sees it: no squads, for those are not the keeper's to see."""

    person: int
    login: str
    name: str
    keeper: bool
    open: bool
    has_password: bool
    joined: datetime
    last_seen: datetime | None


class SquadCard(Frozen):
    """A squad by its key, with the role of the person who asked."""

    key: str
    name: str
    role: Role
    athletes: int
    timezone: str = "UTC"
    """Where its days and times of day hold, as its newest brief says."""
    clinician: bool = False
    """Whether somebody of it is a clinician."""


class MemberCard(Frozen):
    """Somebody of a squad, as the People page shows them."""

    person: int
    name: str
    login: str
    role: Role
    athlete: str | None
    only: tuple[str, ...]
    since: datetime
    links: int
    """Links to programmes they made that are open; these end with their right to share."""


class InvitationCard(Frozen):
    """An open invitation; its link is shown once, when it is made."""

    id: int
    squad: str
    squad_name: str
    role: Role
    athlete: str | None
    for_name: str
    made_by: str
    expires: datetime


class AthleteCard(Frozen):
    """An athlete of a squad: the document without health, which has a gate of its own."""

    squad: str
    ref: str
    name: str
    athlete: Athlete
    archived: bool
    version: str
    """What a change says it was made from: another one each time something of the document is changed."""


class RestrictionCard(Frozen):
    """A restriction with its history: who set it in which role, and who lifted it why."""

    id: int
    athlete: str
    restriction: Restriction
    set_in: Role
    set_by: int | None
    """The account it was set from; None when that is gone."""
    set_at: datetime
    came_with: str | None
    """The name of the programme whose document held it before the squad did."""
    lifted_at: datetime | None
    lifted_by: str | None
    lifted_reason: str | None

    @property
    def lifted(self) -> bool:
        """Say whether it was lifted."""
        return self.lifted_at is not None


class AskedCard(Frozen):
    """What was asked before hard work, who wrote the answers down, and in which role."""

    athlete: str
    screening: Screening
    role: Role
    by: str
    at: datetime


ClearedAfter = Literal["injury", "concussion", "illness", "other"]


class ClearanceCard(Frozen):
    """A written clearance that somebody has seen: whose it is, of which day. It lifts nothing by itself."""

    id: int
    athlete: str
    after: ClearedAfter
    written_by: str
    written_on: date
    seen_by: str
    at: datetime


class BriefRevision(Frozen):
    """One saved state of a squad's brief: places, kit, slots, events, goal, rules; its athletes apart."""

    number: int
    brief: Brief
    by: str
    at: datetime
    reason: str


class MeasurementCard(Frozen):
    """One measured row as it was stored, struck out or not."""

    id: int
    athlete: str
    kind: Literal["trial", "jump", "lift", "trace"]
    document: dict[str, Any]
    by: str
    at: datetime
    struck_by: str | None
    struck_at: datetime | None
    struck_reason: str | None


class ProgrammeCard(Frozen):
    """A programme by its id, with its newest revision."""

    squad: str
    id: str
    name: str
    revision: int
    digest: str
    made_at: datetime
    made_by: str
    archived: bool


class RevisionCard(Frozen):
    """One revision of a programme: who saved it, when and why."""

    number: int
    digest: str
    parent: str | None
    cause: str
    reason: str | None
    by: str
    at: datetime


class Appended(Frozen):
    """What became of entries that were sent: new, known already, or clashing with another of their id."""

    stored: tuple[str, ...]
    known: tuple[str, ...]
    clashing: tuple[LogEntry, ...]

    @property
    def confirmed(self) -> tuple[str, ...]:
        """The ids that a sender may forget."""
        return (*self.stored, *self.known)


class LinkCard(Frozen):
    """A link without sign-in: a calendar feed or one athlete's sheet."""

    id: int
    kind: Literal["feed", "sheet"]
    squad: str
    programme: str
    athlete: str | None
    made_by: str
    made_at: datetime
    revoked_at: datetime | None


class ApiTokenCard(Frozen):
    """A person's token for the API, without its secret."""

    id: int
    title: str
    made_at: datetime
    last_used: datetime | None
    revoked_at: datetime | None


class NoteCard(Frozen):
    """A note about an athlete."""

    id: int
    text: str
    by: str
    at: datetime


class AuditCard(Frozen):
    """Who did what, when."""

    at: datetime
    by: str
    action: str
    about: str
    detail: str
