"""Who trains by which programme, and what was written down lately: for pages of many athletes at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from django.db.models import F, Max

from speedloom.store import models
from speedloom.store.cards import Actor
from speedloom.store.documents_read import document_of
from speedloom.store.permissions import Action, within
from speedloom.store.programme_part import only
from speedloom.store.refusals import NotThereError
from speedloom.training.fields import Frozen
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme


class ProgrammeOf(Frozen):
    """A programme that somebody is in, by its newest revision."""

    id: str
    name: str
    digest: str
    athletes: tuple[str, ...]


def programmes_of_athletes(actor: Actor, squad: str) -> tuple[ProgrammeOf, ...]:
    """List the programmes that are not put away, newest first, with those in each whom this person sees."""
    reach = _reach(actor, squad, "see_programme")
    rows = (
        models.ProgrammeRevision.objects.filter(
            programme__squad__key=squad, programme__archived_at__isnull=True
        )
        .annotate(newest=Max("programme__revisions__number"))
        .filter(number=F("newest"))
        .order_by("-programme__made_at", "-programme__pk")
        .values_list("programme__ref", "programme__name", "digest", "athletes")
    )
    found = (
        ProgrammeOf(id=ref, name=name, digest=digest, athletes=tuple(_those(athletes, reach)))
        for ref, name, digest, athletes in rows
    )
    return tuple(one for one in found if one.athletes)


def _those(text: str, reach: frozenset[str] | None) -> Iterator[str]:
    return (ref for ref in text.split() if reach is None or ref in reach)


def documents(
    actor: Actor, squad: str, those: Iterable[ProgrammeOf]
) -> tuple[tuple[ProgrammeOf, Programme], ...]:
    """Give the documents of some programmes in one question, each cut to the athletes this person sees."""
    reach = _reach(actor, squad, "see_programme")
    wanted = {one.digest: one for one in those}
    rows = models.ProgrammeRevision.objects.filter(programme__squad__key=squad, digest__in=list(wanted))
    found = {row.digest: document_of(row) for row in rows.defer("document")}
    return tuple(
        (one, found[digest] if reach is None else only(found[digest], reach))
        for digest, one in wanted.items()
        if digest in found
    )


class Written(Frozen):
    """An entry of a log with the programme it is about."""

    programme: str
    entry: LogEntry


def written_since(actor: Actor, squad: str, first: date) -> tuple[Written, ...]:
    """List what was written down about days from the first on, in the order it was received."""
    reach = _reach(actor, squad, "see_log")
    rows = models.LogEntry.objects.filter(programme__squad__key=squad, date__gte=first)
    if reach is not None:
        rows = rows.filter(athlete__in=reach)
    texts = rows.order_by("pk").values_list("programme__ref", "document")
    return tuple(Written(programme=ref, entry=LogEntry.model_validate_json(text)) for ref, text in texts)


def _reach(actor: Actor, squad: str, action: Action) -> frozenset[str] | None:
    if actor.of(squad) is None:
        raise NotThereError("There is no such squad among yours.")
    return within(actor, action, squad=squad)
