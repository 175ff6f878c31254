"""Squads: made, listed, renamed, erased; and who did what in them."""

from __future__ import annotations

import json
from functools import lru_cache

from django.db import transaction
from django.db.models import Count, Exists, OuterRef, Q, Subquery

from speedloom.store import models
from speedloom.store._rows import note, now, squad_row
from speedloom.store.cards import Actor, AuditCard, SquadCard
from speedloom.store.permissions import require
from speedloom.store.refusals import NotThereError, RefusedError
from speedloom.store.tokens import new_key
from speedloom.training.brief import Brief
from speedloom.training.document import canonical
from speedloom.training.kept import of_people

LONGEST_NAME = 150


@transaction.atomic
def make_squad(actor: Actor, *, name: str, brief: Brief) -> str:
    """Make a squad with its first brief; the maker is its owner. Gives the squad's key.

    Raises:
        NotAllowedError: the person does not look after the site.
        RefusedError: a name that is empty or too long.
    """
    require(actor, "make_squad")
    row = models.Squad(key=new_key(), name=_named(name))
    row.save()
    models.Membership(person_id=actor.person, squad=row, role="owner").save()
    bare = brief.model_copy(update={"athletes": (), "tests": ()})
    models.BriefRevision(squad=row, number=1, document=canonical(bare), by=actor.login, at=now()).save()
    note(actor, "make_squad", squad=row, about=row.name)
    return row.key


def _named(name: str) -> str:
    plain = " ".join(name.split())
    if not 0 < len(plain) <= LONGEST_NAME:
        raise RefusedError(f"Expected a name of 1 to {LONGEST_NAME} characters, got {len(plain)}.")
    return plain


def my_squads(actor: Actor) -> tuple[SquadCard, ...]:
    """List the squads a person is of, by name."""
    return _cards(actor, [one.squad for one in actor.memberships])


def squad_card(actor: Actor, squad: str) -> SquadCard:
    """Give one squad of the person's.

    Raises:
        NotThereError: not a squad of theirs.
    """
    found = _cards(actor, [squad] if actor.of(squad) else [])
    if not found:
        raise NotThereError("There is no such squad among yours; was the link sent to another account?")
    return found[0]


def _cards(actor: Actor, keys: list[str]) -> tuple[SquadCard, ...]:
    active = Count("athletes", filter=Q(athletes__archived_at__isnull=True))
    briefs = models.BriefRevision.objects.filter(squad=OuterRef("pk")).order_by("-number")
    clinicians = models.Membership.objects.filter(squad=OuterRef("pk"), role="clinician")
    rows = (
        models.Squad.objects.filter(key__in=keys)
        .annotate(
            active=active,
            brief=Subquery(briefs.values("document")[:1]),
            clinician=Exists(clinicians),
        )
        .order_by("name", "key")
    )
    roles = {one.squad: one.role for one in actor.memberships}
    return tuple(
        SquadCard(
            key=row.key,
            name=row.name,
            role=roles[row.key],
            athletes=row.active,
            timezone=_timezone(row.brief),
            clinician=row.clinician,
        )
        for row in rows
    )


@of_people
@lru_cache(maxsize=64)
def _timezone(document: str | None) -> str:
    """Read the time zone of a brief as it is stored; a squad whose brief is gone is in none."""
    return str(json.loads(document)["timezone"]) if document else "UTC"


@transaction.atomic
def rename_squad(actor: Actor, squad: str, *, name: str) -> None:
    """Give a squad another name."""
    row = squad_row(actor, "change_squad", squad)
    row.name = _named(name)
    row.save(update_fields=["name"])
    note(actor, "change_squad", squad=row, detail=f"name {row.name}")


def audit(actor: Actor, squad: str, *, most: int = 200) -> tuple[AuditCard, ...]:
    """List what was done in a squad, newest first."""
    row = squad_row(actor, "see_audit", squad)
    rows = models.Audit.objects.filter(squad=row).order_by("-at", "-pk")[:most]
    return tuple(
        AuditCard(at=one.at, by=one.by, action=one.action, about=one.about, detail=one.detail) for one in rows
    )
