"""The log of a programme: only appended to, each entry once however often it is sent."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import now, programme_row
from speedloom.store.cards import Actor, Appended
from speedloom.store.log_part import for_eyes
from speedloom.store.permissions import require, within
from speedloom.store.programmes import programme_card, read_programme
from speedloom.store.refusals import NotThereError
from speedloom.training.document import canonical
from speedloom.training.log import SCHEMA, Log, LogEntry


@transaction.atomic
def append(actor: Actor, squad: str, ref: str, entries: Iterable[LogEntry]) -> Appended:
    """Append entries; one that is there already is confirmed again, and another of the same id is given back.

    Raises:
        NotAllowedError: an entry is about an athlete this person does not write for; nothing is stored.
    """
    sent = tuple(entries)
    for athlete in sorted({entry.athlete for entry in sent}):
        require(actor, "write_log", squad=squad, athlete=athlete)
    programme = _programme(actor, squad, ref)
    ids = [entry.id.lower() for entry in sent]
    before = _documents(programme, ids)
    models.LogEntry.objects.bulk_create(
        [_new(actor, programme, entry) for entry in sent], ignore_conflicts=True
    )
    there = _documents(programme, ids)
    same = [entry for entry in sent if there[entry.id.lower()] == canonical(entry)]
    return Appended(
        stored=tuple(entry.id for entry in same if entry.id.lower() not in before),
        known=tuple(entry.id for entry in same if entry.id.lower() in before),
        clashing=tuple(entry for entry in sent if entry not in same),
    )


def _documents(programme: models.Programme, ids: list[str]) -> dict[str, str]:
    rows = models.LogEntry.objects.filter(programme=programme, entry__in=ids)
    return dict(rows.values_list("entry", "document"))


def _new(actor: Actor, programme: models.Programme, entry: LogEntry) -> models.LogEntry:
    return models.LogEntry(
        programme=programme,
        entry=entry.id.lower(),
        athlete=entry.athlete,
        session=entry.session or "",
        date=entry.date,
        document=canonical(entry),
        by=actor.login,
        received_at=now(),
    )


def log(actor: Actor, squad: str, ref: str) -> Log:
    """Give a programme's log, cut to the athletes this person may see, in the order it was received."""
    programme = _programme(actor, squad, ref)
    rows = models.LogEntry.objects.filter(programme=programme)
    reach = within(actor, "see_log", squad=squad)
    if reach is not None:
        rows = rows.filter(athlete__in=reach)
    texts = rows.order_by("pk").values_list("document", flat=True)
    whole = Log.model_validate(
        {
            "schema": SCHEMA,
            "programme": ref,
            "timezone": read_programme(actor, squad, ref).timezone,
            "entries": tuple(LogEntry.model_validate_json(text) for text in texts),
        }
    )
    return for_eyes(actor, squad, whole)


def _programme(actor: Actor, squad: str, ref: str) -> models.Programme:
    card = programme_card(actor, squad, ref)
    home = models.Squad.objects.filter(key=squad).first()
    if home is None:
        raise NotThereError("There is no such squad any more.")
    return programme_row(home, card.id)
