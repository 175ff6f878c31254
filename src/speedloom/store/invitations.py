"""Invitations by link: used once, within a week, hashed in the database."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.db.models import QuerySet

from speedloom.store import models
from speedloom.store._rows import note, now, squad_row
from speedloom.store.cards import ROLES, Actor, InvitationCard, Role
from speedloom.store.people import again, his_athlete, make_person, those_athletes
from speedloom.store.permissions import allowed
from speedloom.store.refusals import ExpiredError, NotThereError, RefusedError
from speedloom.store.tokens import hashed, new_secret

LIVES = timedelta(days=7)


@transaction.atomic
def invite(
    actor: Actor,
    squad: str,
    *,
    role: Role,
    athlete: str | None = None,
    only: tuple[str, ...] = (),
    for_name: str = "",
) -> tuple[InvitationCard, str]:
    """Make an invitation; the secret of its link is given here and never again.

    A coach invites athletes, the owner everybody.

    Raises:
        RefusedError: the role athlete without an athlete of the squad, or the reverse.
    """
    row = squad_row(actor, "invite_athlete" if role == "athlete" else "manage_people", squad)
    secret, moment = new_secret(), now()
    one = models.Invitation(
        squad=row,
        role=role,
        athlete=his_athlete(row, role=role, athlete=athlete),
        for_name=for_name.strip()[:150],
        secret=hashed(secret),
        made_by=actor.login,
        made_at=moment,
        expires_at=moment + LIVES,
    )
    one.save()
    one.only.set(those_athletes(row, only=only))
    note(actor, "manage_people", squad=row, about=one.for_name, detail=f"invited as {role}")
    return _card(one), secret


def invitations(actor: Actor, squad: str) -> tuple[InvitationCard, ...]:
    """List the open invitations of a squad, newest first."""
    row = squad_row(actor, "see_people", squad)
    rows = _open().filter(squad=row).select_related("squad", "athlete").order_by("-pk")
    return tuple(_card(one) for one in rows)


@transaction.atomic
def revoke_invitation(actor: Actor, squad: str, number: int) -> None:
    """Take an invitation back."""
    row = squad_row(actor, "see_people", squad)
    one = models.Invitation.objects.filter(squad=row, pk=number).first()
    if one is None:
        raise NotThereError("There is no such invitation in this squad.")
    squad_row(actor, "invite_athlete" if one.role == "athlete" else "manage_people", squad)
    one.revoked_at = one.revoked_at or now()
    one.save(update_fields=["revoked_at"])
    note(actor, "manage_people", squad=row, about=one.for_name, detail="invitation taken back")


def invitation(secret: str) -> InvitationCard:
    """Look at an invitation by the secret of its link.

    Raises:
        ExpiredError: used, taken back, too old, or never made.
    """
    return _card(_found(secret))


@transaction.atomic
def accept(actor: Actor, secret: str) -> Actor:
    """Take part in a squad with an account that is there; gives the person with the new role.

    Raises:
        ExpiredError: used, taken back, or too old.
        RefusedError: the person is of the squad already.
    """
    row = _found(secret)
    if not _open().filter(pk=row.pk).update(used_at=now(), used_by_id=actor.person):
        raise ExpiredError(_TOO_LATE)
    if actor.of(row.squad.key) is not None:
        raise RefusedError(f"You are of {row.squad.name} already; its owner can change your role.")
    member = models.Membership(person_id=actor.person, squad=row.squad, role=row.role, athlete=row.athlete)
    member.save()
    member.only.set(row.only.all())
    note(actor, "accept_invitation", squad=row.squad, about=actor.login, detail=f"as {row.role}")
    return again(actor)


@transaction.atomic
def accept_with_new_account(secret: str, *, login: str, name: str, password: str) -> Actor:
    """Make an account and take part in a squad with it.

    Raises:
        ExpiredError: used, taken back, or too old.
        RefusedError: the login is taken, or the password too easy.
    """
    _found(secret)
    return accept(make_person(login=login, name=name, password=password), secret)


_TOO_LATE = "This invitation was used, taken back or is too old; ask for a new one."


def _open() -> QuerySet[models.Invitation]:
    return models.Invitation.objects.filter(
        used_at__isnull=True, revoked_at__isnull=True, expires_at__gt=now()
    )


def _found(secret: str) -> models.Invitation:
    row = _open().select_related("squad", "athlete").filter(secret=hashed(secret)).first()
    if row is None:
        raise ExpiredError(_TOO_LATE)
    return row


def _card(row: models.Invitation) -> InvitationCard:
    return InvitationCard(
        id=row.pk,
        squad=row.squad.key,
        squad_name=row.squad.name,
        role=next(role for role in ROLES if role == row.role),
        athlete=row.athlete.ref if row.athlete else None,
        for_name=row.for_name,
        made_by=row.made_by,
        expires=row.expires_at,
    )


def may_invite(actor: Actor, squad: str) -> tuple[Role, ...]:
    """List the roles a person may invite to."""
    if allowed(actor, "manage_people", squad=squad):
        return ROLES
    return ("athlete",) if allowed(actor, "invite_athlete", squad=squad) else ()
