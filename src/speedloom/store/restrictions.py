"""Restrictions: anyone on the field may set one at once; who may lift it is a rule of its own."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import IntegrityError, transaction
from django.db.models import QuerySet

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, now, squad_row
from speedloom.store.cards import Actor, Membership, RestrictionCard, Role, role_named
from speedloom.store.permissions import may_lift, within
from speedloom.store.refusals import NotThereError, NotYoursToLiftError, RefusedError
from speedloom.training.athlete import Restriction
from speedloom.training.document import canonical
from speedloom.training.fields import Frozen


def restrictions(
    actor: Actor, squad: str, *, lifted: bool = False, athlete: str | None = None
) -> tuple[RestrictionCard, ...]:
    """List the restrictions in force that are for this person's eyes; with `lifted` those lifted too."""
    rows = models.Restriction.objects.filter(athlete__squad__key=squad)
    only = within(actor, "see_health", squad=squad)
    if only is not None:
        rows = rows.filter(athlete__ref__in=only)
    if athlete is not None:
        rows = rows.filter(athlete__ref=athlete)
    if not lifted:
        rows = rows.filter(lifted_at__isnull=True)
    return cards_of(rows)


def cards_of(rows: QuerySet[models.Restriction]) -> tuple[RestrictionCard, ...]:
    """Give rows as cards, by athlete and in the order in which they were set."""
    ordered = rows.select_related("athlete").order_by("athlete__ref", "set_at", "ref")
    return tuple(_card(row) for row in ordered)


@transaction.atomic
def set_restriction(actor: Actor, squad: str, ref: str, new: Restriction) -> RestrictionCard:
    """Set a restriction; it holds until somebody who may lifts it.

    Raises:
        RefusedError: its name is taken, or somebody who is no clinician sets it as one.
    """
    row = athlete_row(actor, "set_restriction", squad, ref)
    role = _role(actor, squad)
    if (new.set_as == "clinician") != (role == "clinician"):
        raise RefusedError(f"Expected a restriction set as {_set_as(role)} by {role}, got {new.set_as}.")
    one = models.Restriction(
        athlete=row,
        ref=new.ref,
        document=canonical(new),
        set_by_id=actor.person,
        set_in=role,
        set_at=now(),
    )
    try:
        with transaction.atomic():
            one.save()
    except IntegrityError as error:
        raise RefusedError(
            f"{ref} has a restriction {new.ref} already; give this one another name."
        ) from error
    note(actor, "set_restriction", squad=row.squad, about=ref, detail=new.ref)
    return _card(one)


@transaction.atomic
def lift_restriction(actor: Actor, squad: str, ref: str, number: int, *, reason: str) -> RestrictionCard:
    """Lift a restriction, with a reason; the restriction stays in the history.

    Raises:
        NotYoursToLiftError: somebody else set it, or a clinician did.
        RefusedError: no reason, or lifted before.
    """
    row = athlete_row(actor, "lift_restriction", squad, ref)
    one = models.Restriction.objects.filter(athlete=row, pk=number).select_related("athlete").first()
    if one is None:
        raise NotThereError(f"{ref} has no such restriction.")
    stored = Restriction.model_validate_json(one.document)
    if not may_lift(
        actor,
        squad=squad,
        athlete=ref,
        set_as=stored.set_as,
        set_by=one.set_by_id,
        set_in=role_named(one.set_in),
    ):
        raise NotYoursToLiftError(
            f"Only a clinician, or the coach who set it, lifts this one: it was set by {stored.set_by}."
        )
    if not reason.strip():
        raise RefusedError(
            "Expected a reason why the restriction is lifted, such as who cleared the athlete."
        )
    if one.lifted_at is not None:
        raise RefusedError(f"This was lifted before, by {one.lifted_by}.")
    one.lifted_by, one.lifted_at, one.lifted_reason = actor.name, now(), reason.strip()
    one.save(update_fields=["lifted_by", "lifted_at", "lifted_reason"])
    note(actor, "lift_restriction", squad=row.squad, about=ref, detail=f"{one.ref}: {reason.strip()}")
    return _card(one)


class Lifters(Frozen):
    """Who of a squad may lift what: is there a clinician, and what may nobody lift."""

    clinician: bool
    nobody: frozenset[int]
    """The ids of restrictions that nobody of the squad may lift."""


def lifters(actor: Actor, squad: str, cards: Iterable[RestrictionCard]) -> Lifters:
    """Say whether somebody of the squad is a clinician, and which restrictions nobody there may lift."""
    row = squad_row(actor, "see_health", squad, athlete=_own(actor, squad))
    rows = models.Membership.objects.filter(squad=row).exclude(role__in=("viewer", "athlete", "assistant"))
    people = [_member(one, squad) for one in rows.prefetch_related("only")]
    return Lifters(
        clinician=any(one.memberships[0].role == "clinician" for one in people),
        nobody=frozenset(
            card.id for card in cards if not any(may_lift_this(one, squad, card) for one in people)
        ),
    )


def _member(row: models.Membership, squad: str) -> Actor:
    only = tuple(one.ref for one in row.only.all())
    here = Membership(squad=squad, role=role_named(row.role), only=only)
    return Actor(person=row.person_id, login="", name="", memberships=(here,))


def _own(actor: Actor, squad: str) -> str | None:
    membership = actor.of(squad)
    return membership.athlete if membership else None


def may_lift_this(actor: Actor, squad: str, card: RestrictionCard) -> bool:
    """Say whether a person may lift a restriction that is in the list."""
    return may_lift(
        actor,
        squad=squad,
        athlete=card.athlete,
        set_as=card.restriction.set_as,
        set_by=card.set_by,
        set_in=card.set_in,
    )


def _role(actor: Actor, squad: str) -> Role:
    membership = actor.of(squad)
    if membership is None:
        raise NotThereError("There is no such squad among yours.")
    return membership.role


def _set_as(role: Role) -> str:
    return "clinician" if role == "clinician" else "coach"


def _card(row: models.Restriction) -> RestrictionCard:
    return RestrictionCard(
        id=row.pk,
        athlete=row.athlete.ref,
        restriction=Restriction.model_validate_json(row.document),
        set_in=role_named(row.set_in),
        set_by=row.set_by_id,
        set_at=row.set_at,
        came_with=row.came_with or None,
        lifted_at=row.lifted_at,
        lifted_by=row.lifted_by or None,
        lifted_reason=row.lifted_reason or None,
    )
