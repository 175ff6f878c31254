"""What is written of one day, and entries by their ids, without reading a whole season's log."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from django.db.models import Q, QuerySet

from speedloom.store import models
from speedloom.store.cards import Actor
from speedloom.store.log_part import entries_for_eyes
from speedloom.store.logs import _programme
from speedloom.store.permissions import within
from speedloom.training.log import LogEntry


def written_on(
    actor: Actor,
    squad: str,
    ref: str,
    day: date,
    *,
    sessions: Iterable[str] = (),
    trained_on: date | None = None,
) -> tuple[LogEntry, ...]:
    """Give the entries about a day, cut to the athletes this person may see, in the order received.

    Args:
        actor: who looks.
        squad: the squad's key.
        ref: the programme's id.
        day: the day.
        sessions: refs of its sessions: what was written of them as trained on another day belongs to them.
        trained_on: that other day, of which work outside the programme belongs to it as well.
    """
    about = Q(date=day) | Q(session__in=[*sessions]) | Q(date=trained_on, session="")
    rows = models.LogEntry.objects.filter(about, programme=_programme(actor, squad, ref))
    return entries_for_eyes(actor, squad, _entries(rows, within(actor, "see_log", squad=squad)))


def written_before(actor: Actor, squad: str, ref: str, ids: Iterable[str]) -> Mapping[str, LogEntry]:
    """Give those of these entries that are stored, by id in small letters, and that this person may see."""
    wanted = [one.lower() for one in ids]
    rows = models.LogEntry.objects.filter(programme=_programme(actor, squad, ref), entry__in=wanted)
    return {one.id.lower(): one for one in _entries(rows, within(actor, "see_log", squad=squad))}


def _entries(rows: QuerySet[models.LogEntry], reach: frozenset[str] | None) -> tuple[LogEntry, ...]:
    if reach is not None:
        rows = rows.filter(athlete__in=reach)
    texts = rows.order_by("pk").values_list("document", flat=True)
    return tuple(LogEntry.model_validate_json(text) for text in texts)
