"""Day by day: an athlete's own answers, and notes of those who work with them."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, now
from speedloom.store.cards import Actor, NoteCard
from speedloom.store.permissions import within
from speedloom.store.refusals import NotThereError, RefusedError
from speedloom.training.document import canonical
from speedloom.training.wellness import Wellness

LONGEST_NOTE = 4000
MOST_OWN = 30
"""Notes of their own that an athlete sees, the newest [count]."""


@transaction.atomic
def record_wellness(actor: Actor, squad: str, said: Wellness) -> None:
    """Keep an athlete's answers of a day; the last ones of a day hold."""
    row = athlete_row(actor, "write_wellness", squad, said.athlete)
    models.Wellness(athlete=row, date=said.date, document=canonical(said), by=actor.login, at=now()).save()


def wellness(actor: Actor, squad: str, *, since: date | None = None) -> tuple[Wellness, ...]:
    """List the answers a person may see, by athlete and day; one of each day, the last."""
    rows = models.Wellness.objects.filter(athlete__squad__key=squad)
    reach = within(actor, "see_wellness", squad=squad)
    if reach is not None:
        rows = rows.filter(athlete__ref__in=reach)
    if since is not None:
        rows = rows.filter(date__gte=since)
    texts = rows.order_by("athlete__ref", "date", "pk").values_list("document", flat=True)
    found = {(one.athlete, one.date): one for one in map(Wellness.model_validate_json, texts)}
    return tuple(found.values())


@transaction.atomic
def add_note(actor: Actor, squad: str, ref: str, *, text: str) -> NoteCard:
    """Write a note about an athlete.

    Raises:
        RefusedError: nothing was written, or too much.
    """
    return _added(actor, athlete_row(actor, "write_notes", squad, ref), text)


@transaction.atomic
def take_back_note(actor: Actor, squad: str, ref: str, number: int) -> None:
    """Hide a note of one's own.

    Raises:
        NotThereError: no such note of this person's.
    """
    _taken_back(actor, athlete_row(actor, "write_notes", squad, ref), number)


def notes(actor: Actor, squad: str, ref: str) -> tuple[NoteCard, ...]:
    """List the notes about an athlete, newest first."""
    row = athlete_row(actor, "see_notes", squad, ref)
    return tuple(_card(one) for one in _standing(row).order_by("-pk"))


@transaction.atomic
def add_own_note(actor: Actor, squad: str, ref: str, *, text: str) -> NoteCard:
    """Write a note about oneself: an athlete's own words, read by those who read notes.

    Raises:
        RefusedError: nothing was written, or too much.
    """
    return _added(actor, athlete_row(actor, "write_wellness", squad, ref), text)


@transaction.atomic
def take_back_own_note(actor: Actor, squad: str, ref: str, number: int) -> None:
    """Hide a note of one's own about oneself.

    Raises:
        NotThereError: no such note of this person's.
    """
    _taken_back(actor, athlete_row(actor, "write_wellness", squad, ref), number)


def own_notes(actor: Actor, squad: str, ref: str) -> tuple[NoteCard, ...]:
    """List what an athlete wrote about themselves, newest first; what others wrote is not theirs to see."""
    row = athlete_row(actor, "write_wellness", squad, ref)
    return tuple(_card(one) for one in _standing(row).filter(by=actor.login).order_by("-pk")[:MOST_OWN])


def _added(actor: Actor, row: models.Athlete, text: str) -> NoteCard:
    if not 0 < len(text.strip()) <= LONGEST_NOTE:
        raise RefusedError(f"Expected a note of 1 to {LONGEST_NOTE} characters, got {len(text.strip())}.")
    one = models.Note(athlete=row, text=text.strip(), by=actor.login, at=now())
    one.save()
    return _card(one)


def _taken_back(actor: Actor, row: models.Athlete, number: int) -> None:
    one = models.Note.objects.filter(athlete=row, pk=number, by=actor.login, takes_back__isnull=True).first()
    if one is None:
        raise NotThereError("There is no such note of yours.")
    models.Note(athlete=row, text="", by=actor.login, at=now(), takes_back=one).save()
    note(actor, "write_notes", squad=row.squad, about=row.ref, detail="a note taken back")


def _standing(row: models.Athlete) -> models.lasting.LastingRows:
    return models.Note.objects.filter(athlete=row, takes_back__isnull=True, taken_back_by__isnull=True)


def _card(one: models.Note) -> NoteCard:
    return NoteCard(id=one.pk, text=one.text, by=one.by, at=one.at)
