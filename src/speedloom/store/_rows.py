"""Rows by their keys, after the permission was looked at; and the line of who did what."""

from __future__ import annotations

from datetime import datetime

from django.utils import timezone

from speedloom.store import models
from speedloom.store.cards import Actor
from speedloom.store.permissions import Action, require
from speedloom.store.refusals import NotThereError


def now() -> datetime:
    """Give this moment; the store is where clocks are."""
    return timezone.now()


def squad_row(actor: Actor, action: Action, squad: str, *, athlete: str | None = None) -> models.Squad:
    """Give a squad's row to somebody who may do this in it.

    Raises:
        NotThereError: no such squad, or not the person's.
        NotAllowedError: the role does not reach this far.
    """
    require(actor, action, squad=squad, athlete=athlete)
    row = models.Squad.objects.filter(key=squad).first()
    if row is None:
        raise NotThereError("There is no such squad any more.")
    return row


def athlete_row(actor: Actor, action: Action, squad: str, ref: str) -> models.Athlete:
    """Give an athlete's row to somebody who may do this about them.

    Raises:
        NotThereError: no such athlete, or in a squad that is not the person's.
        NotAllowedError: the role does not reach this athlete.
    """
    require(actor, action, squad=squad, athlete=ref)
    row = models.Athlete.objects.select_related("squad").filter(squad__key=squad, ref=ref).first()
    if row is None:
        raise NotThereError(f"There is no athlete {ref} in this squad.")
    return row


def programme_row(squad: models.Squad, ref: str) -> models.Programme:
    """Give a programme's row of a squad.

    Raises:
        NotThereError: the squad has no such programme.
    """
    row = models.Programme.objects.filter(squad=squad, ref=ref).first()
    if row is None:
        raise NotThereError(f"This squad has no programme {ref}.")
    return row


def note(
    actor: Actor, action: Action | str, *, squad: models.Squad | None, about: str = "", detail: str = ""
) -> None:
    """Write down who did what."""
    models.Audit(squad=squad, at=now(), by=actor.login, action=action, about=about, detail=detail).save()
