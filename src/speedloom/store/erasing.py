"""Erased because a person asked for it: from every table, and out of every document they stand in."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, squad_row
from speedloom.store.cards import Actor
from speedloom.store.erased_accounts import accounts_of, end_accounts
from speedloom.store.erased_words import Names
from speedloom.store.packing import packed_text, plain_text, unpacked
from speedloom.store.programme_part import only
from speedloom.store.refusals import RefusedError
from speedloom.store.writing import written
from speedloom.training.brief import Brief, OwnLine
from speedloom.training.document import canonical, digest
from speedloom.training.kept import forget_people
from speedloom.training.programme import Programme


@transaction.atomic
def erase_athlete(actor: Actor, squad: str, ref: str) -> None:
    """Erase an athlete: tests, restrictions, log, links, account, and their part of every programme.

    An account that has another role stays for that one. Their name is taken out of what others typed as
    well. Programmes keep their revisions, with new digests.
    Backups made before still hold the athlete.
    """
    row = athlete_row(actor, "erase_athlete", squad, ref)
    home, names = row.squad, Names(row.ref, row.name)
    for programme in models.Programme.objects.filter(squad=home):
        models.LogEntry.objects.filter(programme=programme, athlete=ref).erase()
        _take_out_of(programme, ref, names)
    _take_out_of_briefs(home, ref, names)
    models.Audit.objects.filter(squad=home, about=ref).erase()
    people = accounts_of([row])
    models.Membership.objects.filter(squad=home, athlete=row).delete()
    row.delete()
    end_accounts(people, squad=home)
    _take_out_of_words(home, names)
    note(actor, "erase_athlete", squad=home)
    transaction.on_commit(forget_people)


def _take_out_of(programme: models.Programme, ref: str, names: Names) -> None:
    rows = list(models.ProgrammeRevision.objects.filter(programme=programme).order_by("number"))
    if not any(f" {ref} " in row.athletes or names.perhaps_in(plain_text(row.document)) for row in rows):
        return
    documents = [unpacked(row.document) for row in rows]
    others = {own.athlete for document in documents for own in document.programmes} - {ref}
    if not others:
        models.ProgrammeRevision.objects.filter(programme=programme).erase()
        programme.delete()
        return
    for row, document in zip(rows, _chained(documents, others, names), strict=True):
        models.ProgrammeRevision.objects.filter(pk=row.pk).rewrite(
            document=packed_text(written(document)),
            digest=digest(document),
            parent=document.revision.parent or "",
            reason=document.revision.reason or "",
            athletes=f" {' '.join(own.athlete for own in document.programmes)} ",
        )


def _chained(documents: Sequence[Programme], others: set[str], names: Names) -> list[Programme]:
    """Cut documents to the others, each with the digest of the one before as its parent, where it had one."""
    chained: list[Programme] = []
    for document in documents:
        content = json.loads(canonical(only(document, others)))
        cut = Programme.model_validate_json(json.dumps(names.out_of_content(content)))
        revision = cut.revision
        if revision.parent is not None and chained:
            revision = revision.model_copy(update={"parent": digest(chained[-1])})
        chained.append(cut.model_copy(update={"revision": revision}))
    return chained


def _take_out_of_briefs(squad: models.Squad, ref: str, names: Names) -> None:
    rows = models.BriefRevision.objects.filter(squad=squad)
    for row in rows:
        brief = Brief.model_validate_json(row.document)
        lines = tuple(_without(line, ref) for line in brief.own_lines if line.athletes != (ref,))
        text = canonical(brief.model_copy(update={"own_lines": lines}))
        text = canonical(Brief.model_validate_json(json.dumps(names.out_of_content(json.loads(text)))))
        reason = names.out_of(row.reason)
        if (text, reason) != (row.document, row.reason):
            rows.filter(pk=row.pk).rewrite(document=text, reason=reason)


def _without(line: OwnLine, ref: str) -> OwnLine:
    return line.model_copy(update={"athletes": tuple(one for one in line.athletes if one != ref)})


def _take_out_of_words(squad: models.Squad, names: Names) -> None:
    """Take the names out of what stands in other people's rows, and in the list of who did what."""
    _reword(models.Audit.objects.filter(squad=squad), names, "about", "detail")
    _reword(models.Programme.objects.filter(squad=squad), names, "name")
    _reword(models.Note.objects.filter(athlete__squad=squad), names, "text")
    _reword(models.Restriction.objects.filter(athlete__squad=squad), names, "lifted_reason", "came_with")
    _reword(models.Measurement.objects.filter(athlete__squad=squad), names, "struck_reason")
    entries = models.LogEntry.objects.filter(programme__squad=squad)
    for pk, document in entries.values_list("pk", "document"):
        if names.perhaps_in(document):
            content = names.out_of_content(json.loads(document))
            entries.filter(pk=pk).rewrite(document=_canonical(content))


def _canonical(content: object) -> str:
    return json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n"


def _reword(rows: QuerySet[Any], names: Names, *fields: str) -> None:
    for pk, *texts in rows.values_list("pk", *fields):
        now = [names.out_of(text) for text in texts]
        if now != texts:
            row = rows.filter(pk=pk)
            change = row.rewrite if isinstance(row, models.lasting.LastingRows) else row.update
            change(**dict(zip(fields, now, strict=True)))


@transaction.atomic
def erase_squad(actor: Actor, squad: str, *, name: str) -> None:
    """Erase a squad, everything in it, and the accounts of its athletes who have no other role.

    Its name is typed once more, so that nobody does it by a slip.

    Raises:
        RefusedError: another name was typed.
    """
    row = squad_row(actor, "erase_squad", squad)
    if name.strip() != row.name:
        raise RefusedError(f"Expected the squad's name, {row.name}, got {name.strip() or 'nothing'}.")
    people = accounts_of(models.Athlete.objects.filter(squad=row))
    row.delete()
    end_accounts(people, squad=None)
    note(actor, "erase_squad", squad=None, about=squad)
    transaction.on_commit(forget_people)
