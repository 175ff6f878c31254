"""Written clearances: recorded by whoever has seen the paper; none of them lifts a restriction by itself."""

from __future__ import annotations

from datetime import date
from typing import get_args

from django.db import transaction
from django.utils.timezone import localdate

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, now
from speedloom.store.cards import Actor, ClearanceCard, ClearedAfter
from speedloom.store.permissions import within
from speedloom.store.refusals import NotThereError, RefusedError

AFTER: tuple[ClearedAfter, ...] = get_args(ClearedAfter)
LONGEST_NAME = 150


@transaction.atomic
def record_clearance(
    actor: Actor, squad: str, ref: str, *, after: ClearedAfter, written_by: str, written_on: date
) -> ClearanceCard:
    """Keep that a written clearance was seen: after what, by whom it is written, and of which day.

    Raises:
        RefusedError: nobody is named, or the day lies ahead.
    """
    row = athlete_row(actor, "record_clearance", squad, ref)
    name = " ".join(written_by.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise RefusedError("Expected the name of who wrote the clearance, such as a doctor's, got nothing.")
    if written_on > localdate():
        raise RefusedError(f"Expected a day that has been, got {written_on}; a clearance is seen first.")
    one = models.Clearance(
        athlete=row,
        after=after,
        written_by=name,
        written_on=written_on,
        seen_by=actor.name,
        by=actor.login,
        at=now(),
    )
    one.save()
    said = f"written clearance after {after}, by {name}, of {written_on}"
    note(actor, "record_clearance", squad=row.squad, about=ref, detail=said)
    return _card(one)


@transaction.atomic
def take_back_clearance(actor: Actor, squad: str, ref: str, number: int) -> None:
    """Hide a clearance that was recorded by mistake.

    Raises:
        NotThereError: no such clearance of this athlete.
    """
    row = athlete_row(actor, "record_clearance", squad, ref)
    one = _standing().filter(athlete=row, pk=number).first()
    if one is None:
        raise NotThereError(f"{ref} has no such clearance.")
    models.Clearance(
        athlete=row,
        after=one.after,
        written_by=one.written_by,
        written_on=one.written_on,
        seen_by=actor.name,
        by=actor.login,
        at=now(),
        takes_back=one,
    ).save()
    note(actor, "record_clearance", squad=row.squad, about=ref, detail="a clearance taken back")


def clearances(actor: Actor, squad: str, *, athlete: str | None = None) -> tuple[ClearanceCard, ...]:
    """List the clearances that are for this person's eyes, the newest first."""
    rows = _standing().filter(athlete__squad__key=squad).select_related("athlete")
    only = within(actor, "see_health", squad=squad)
    if only is not None:
        rows = rows.filter(athlete__ref__in=only)
    if athlete is not None:
        rows = rows.filter(athlete__ref=athlete)
    return tuple(_card(row) for row in rows.order_by("-written_on", "-pk"))


def _standing() -> models.lasting.LastingRows:
    return models.Clearance.objects.filter(takes_back__isnull=True, taken_back_by__isnull=True)


def _card(row: models.Clearance) -> ClearanceCard:
    return ClearanceCard(
        id=row.pk,
        athlete=row.athlete.ref,
        after=next(after for after in AFTER if after == row.after),
        written_by=row.written_by,
        written_on=row.written_on,
        seen_by=row.seen_by,
        at=row.at,
    )
