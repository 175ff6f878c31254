"""Limits that came inside a programme's document: kept with the squad's own, to be lifted there."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256

from django.utils.timezone import localdate

from speedloom.store import models
from speedloom.store._rows import note, now
from speedloom.store.cards import Actor
from speedloom.store.documents_read import document_of
from speedloom.training.athlete import Restriction
from speedloom.training.document import canonical
from speedloom.training.programme import Programme

LONGEST_REF = 40
STAMP = 8
"""Signs of the document's own digest that make its name another one [count]."""


def adopt_limits(
    actor: Actor, line: models.Programme, programme: Programme, *, only: str | None = None
) -> None:
    """Keep the limits of a document that the squad does not know, each as it was written.

    A document is made anywhere: from a file, on another computer. What a clinician wrote into it stays a
    clinician's, whoever saves it here.
    """
    held = {ref: those for ref, those in _held(programme) if only in (None, ref)}
    if not held:
        return
    rows = models.Athlete.objects.filter(squad=line.squad, ref__in=held).prefetch_related("restrictions")
    for row in rows:
        rows_of = row.restrictions.all()
        known = {Restriction.model_validate_json(one.document).in_order() for one in rows_of}
        names = {one.ref for one in rows_of}
        for one in held[row.ref]:
            if one.in_order() not in known:
                _adopt(actor, line, row, one, taken=one.ref in names)
                names.add(one.ref)


def adopt_for(actor: Actor, athlete: models.Athlete) -> None:
    """Keep the limits of a new athlete that programmes saved before already hold."""
    rows = models.ProgrammeRevision.objects.filter(
        programme__squad=athlete.squad, athletes__contains=f" {athlete.ref} "
    )
    newest = {row.programme_id: row for row in rows.defer("document").order_by("programme_id", "number")}
    for row in newest.values():
        adopt_limits(actor, row.programme, document_of(row), only=athlete.ref)


def _held(programme: Programme) -> Iterator[tuple[str, tuple[Restriction, ...]]]:
    content, today = programme.brief.content, localdate()
    for athlete in content.athletes if content else ():
        those = tuple(one for one in athlete.restrictions if one.until is None or one.until >= today)
        if those:
            yield athlete.ref, those


def _adopt(
    actor: Actor, line: models.Programme, athlete: models.Athlete, one: Restriction, *, taken: bool
) -> None:
    membership = actor.of(line.squad.key)
    role = membership.role if membership else "coach"
    document = canonical(one)
    models.Restriction(
        athlete=athlete,
        ref=_other_name(one.ref, document) if taken else one.ref,
        document=document,
        set_by_id=actor.person,
        set_in="clinician" if one.set_as == "clinician" else role,
        set_at=now(),
        came_with=line.name,
    ).save()
    said = f"{one.ref}: came with the programme {line.ref}"
    note(actor, "set_restriction", squad=line.squad, about=athlete.ref, detail=said)


def _other_name(ref: str, document: str) -> str:
    stamp = sha256(document.encode()).hexdigest()[:STAMP]
    return f"{ref[: LONGEST_REF - STAMP - 1]}.{stamp}"
