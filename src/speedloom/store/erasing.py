"""Erased because a person asked for it: from every table, and out of every document they stand in."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, squad_row
from speedloom.store.cards import Actor
from speedloom.store.packing import packed, unpacked
from speedloom.store.programme_part import only
from speedloom.store.refusals import RefusedError
from speedloom.training.brief import Brief, OwnLine
from speedloom.training.document import canonical, digest
from speedloom.training.programme import Programme


@transaction.atomic
def erase_athlete(actor: Actor, squad: str, ref: str) -> None:
    """Erase an athlete: tests, restrictions, log, links, account's role, and their part of every programme.

    Programmes keep their revisions, with new digests. Backups made before still hold the athlete.
    """
    row = athlete_row(actor, "erase_athlete", squad, ref)
    home = row.squad
    for programme in models.Programme.objects.filter(squad=home):
        models.LogEntry.objects.filter(programme=programme, athlete=ref).erase()
        _take_out_of(programme, ref)
    _take_out_of_briefs(home, ref)
    models.Audit.objects.filter(squad=home, about=ref).erase()
    models.Membership.objects.filter(squad=home, athlete=row).delete()
    row.delete()
    note(actor, "erase_athlete", squad=home)


def _take_out_of(programme: models.Programme, ref: str) -> None:
    rows = models.ProgrammeRevision.objects.filter(programme=programme).order_by("number")
    if not rows.filter(athletes__contains=f" {ref} ").exists():
        return
    kept = list(rows)
    documents = [unpacked(row.document) for row in kept]
    others = {own.athlete for document in documents for own in document.programmes} - {ref}
    rows.erase()
    if not others:
        programme.delete()
        return
    for row, document in zip(kept, _chained(only(one, others) for one in documents), strict=True):
        row.pk = None
        row.document, row.digest = packed(document), digest(document)
        row.parent = document.revision.parent or ""
        row.athletes = f" {' '.join(own.athlete for own in document.programmes)} "
        row.save()


def _chained(documents: Iterable[Programme]) -> list[Programme]:
    """Give each document the digest of the one before as its parent, where it had one."""
    chained: list[Programme] = []
    for document in documents:
        revision = document.revision
        if revision.parent is not None and chained:
            revision = revision.model_copy(update={"parent": digest(chained[-1])})
        chained.append(document.model_copy(update={"revision": revision}))
    return chained


def _take_out_of_briefs(squad: models.Squad, ref: str) -> None:
    for row in models.BriefRevision.objects.filter(squad=squad, document__contains=f'"{ref}"'):
        brief = Brief.model_validate_json(row.document)
        lines = tuple(_without(line, ref) for line in brief.own_lines if line.athletes != (ref,))
        if lines != brief.own_lines:
            models.BriefRevision.objects.filter(pk=row.pk).erase()
            row.pk, row.document = None, canonical(brief.model_copy(update={"own_lines": lines}))
            row.save()


def _without(line: OwnLine, ref: str) -> OwnLine:
    return line.model_copy(update={"athletes": tuple(one for one in line.athletes if one != ref)})


@transaction.atomic
def erase_squad(actor: Actor, squad: str, *, name: str) -> None:
    """Erase a squad and everything in it; its name is typed once more, so that nobody does it by a slip.

    Raises:
        RefusedError: another name was typed.
    """
    row = squad_row(actor, "erase_squad", squad)
    if name.strip() != row.name:
        raise RefusedError(f"Expected the squad's name, {row.name}, got {name.strip() or 'nothing'}.")
    row.delete()
    note(actor, "erase_squad", squad=None, about=squad)
