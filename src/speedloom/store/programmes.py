"""Programmes as lines of immutable revisions: saved after the one they were made from, never over it."""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import OuterRef, Q, QuerySet, Subquery

from speedloom.store import models
from speedloom.store._rows import note, now, programme_row, squad_row
from speedloom.store.adopted_limits import adopt_limits
from speedloom.store.cards import Actor, ProgrammeCard, RevisionCard
from speedloom.store.documents_read import document_of, keep_read
from speedloom.store.packing import packed_text
from speedloom.store.permissions import allowed, within
from speedloom.store.programme_part import only, without_health
from speedloom.store.refusals import ConflictError, NotThereError
from speedloom.store.writing import written
from speedloom.training.document import digest, digest_of, stored_under
from speedloom.training.programme import Programme


def programmes(
    actor: Actor, squad: str, *, archived: bool = False, most: int | None = None
) -> tuple[ProgrammeCard, ...]:
    """List a squad's programmes, newest first; an athlete's own account sees those it is in."""
    reach = within(actor, "see_programme", squad=squad)
    rows = _newest(squad).filter(archived_at__isnull=not archived)
    if reach is not None:
        mine = [Q(revisions__athletes__contains=f" {ref} ") for ref in sorted(reach)]
        rows = rows.filter(reduce(or_, mine, Q(pk__in=()))).distinct()
    return tuple(_card(row, squad) for row in rows.order_by("-made_at", "-pk")[:most])


def programme_card(actor: Actor, squad: str, ref: str) -> ProgrammeCard:
    """Give one programme's card, without reading the document.

    Raises:
        NotThereError: no such programme that this person may see.
    """
    if within(actor, "see_programme", squad=squad) is None:
        return _one_card(squad, ref)
    found = [card for card in programmes(actor, squad) if card.id == ref]
    if not found:
        raise NotThereError(f"There is no programme {ref} among yours.")
    return found[0]


def read_programme(actor: Actor, squad: str, ref: str, *, number: int | None = None) -> Programme:
    """Give a programme, its newest revision or one by number, cut to the athletes this person may see.

    Raises:
        NotThereError: no such programme or revision, or nobody in it whom this person may see.
    """
    reach = within(actor, "see_programme", squad=squad)
    if reach == frozenset():
        raise NotThereError(f"There is no programme {ref} among yours.")
    row = _revision(squad, ref, number)
    whole = document_of(row)
    if reach is None:
        return whole if allowed(actor, "see_health", squad=squad) else without_health(whole)
    part = only(whole, reach)
    if not part.programmes:
        raise NotThereError(f"There is no programme {ref} among yours.")
    return without_health(part) if within(actor, "see_health", squad=squad) == frozenset() else part


def revisions(actor: Actor, squad: str, ref: str) -> tuple[RevisionCard, ...]:
    """List who saved what when and why, newest first."""
    row = programme_row(squad_row(actor, "see_programme", squad), ref)
    rows = models.ProgrammeRevision.objects.filter(programme=row).defer("document").order_by("-number")
    return tuple(
        RevisionCard(
            number=one.number,
            digest=one.digest,
            parent=one.parent or None,
            cause=one.cause,
            reason=one.reason or None,
            by=one.by,
            at=one.at,
        )
        for one in rows
    )


@transaction.atomic
def save_programme(
    actor: Actor, squad: str, programme: Programme, *, name: str | None = None, after: str | None = None
) -> ProgrammeCard:
    """Save a new programme, or a revision of one made from the revision with the digest `after`.

    A document that is stored already is stored once: sending it again gives its card.

    Raises:
        ConflictError: somebody saved another revision meanwhile, or numbers do not follow each other.
    """
    home = squad_row(actor, "make_programme" if after is None else "change_programme", squad)
    row = _line(actor, home, programme, name)
    text = written(programme)
    stamp = stored_under(programme, digest_of(text))
    if models.ProgrammeRevision.objects.filter(programme=row, digest=stamp).exists():
        return _one_card(squad, row.ref)
    latest = (
        models.ProgrammeRevision.objects.filter(programme=row).defer("document").order_by("-number").first()
    )
    _follows(programme, latest, after)
    keep_read(_add(actor, row, programme, text), programme, text=len(text))
    adopt_limits(actor, row, programme)
    action = "make_programme" if after is None else "change_programme"
    said = f"revision {programme.revision.number}: {programme.revision.reason or programme.revision.cause}"
    note(actor, action, squad=home, about=row.ref, detail=said)
    return _one_card(squad, row.ref)


def _line(actor: Actor, squad: models.Squad, programme: Programme, name: str | None) -> models.Programme:
    content = programme.brief.content
    title = name or (content.name if content else programme.id)
    row, _ = models.Programme.objects.get_or_create(
        squad=squad,
        ref=programme.id,
        defaults={"name": title[:150], "made_by": actor.login, "made_at": now()},
    )
    return row


def _follows(programme: Programme, latest: models.ProgrammeRevision | None, after: str | None) -> None:
    if latest is None:
        if after is not None:
            raise ConflictError("The programme this was made from is not stored here; save that one first.")
        return
    if latest.digest != after:
        raise ConflictError(
            f"{latest.by} saved revision {latest.number} meanwhile. Look at it and make your change again."
        )
    wanted = latest.number + 1
    if programme.revision.number != wanted or programme.revision.parent not in (None, latest.digest):
        raise ConflictError(
            f"Expected revision {wanted}, got {programme.revision.number}; nothing was saved."
        )


def _add(actor: Actor, row: models.Programme, programme: Programme, text: bytes) -> models.ProgrammeRevision:
    new = models.ProgrammeRevision(
        programme=row,
        number=programme.revision.number,
        digest=digest(programme),
        parent=programme.revision.parent or "",
        cause=programme.revision.cause,
        reason=programme.revision.reason or "",
        athletes=f" {' '.join(own.athlete for own in programme.programmes)} ",
        document=packed_text(text),
        by=actor.login,
        at=now(),
    )
    try:
        with transaction.atomic():
            new.save()
    except IntegrityError as error:
        raise ConflictError("Somebody saved this revision meanwhile; look at it.") from error
    return new


@transaction.atomic
def archive_programme(actor: Actor, squad: str, ref: str, *, back: bool = False) -> None:
    """Put a programme away, or bring it back; nothing is lost."""
    home = squad_row(actor, "change_programme", squad)
    row = programme_row(home, ref)
    row.archived_at = None if back else now()
    row.save(update_fields=["archived_at"])
    note(actor, "change_programme", squad=home, about=ref, detail="back" if back else "archived")


def linked_programme(squad: str, ref: str, athletes: frozenset[str] | None) -> Programme:
    """Give a programme to whoever holds a link to it, cut to the link's athlete."""
    row = _revision(squad, ref, None)
    whole = document_of(row)
    return without_health(whole) if athletes is None else only(whole, athletes)


def _revision(squad: str, ref: str, number: int | None) -> models.ProgrammeRevision:
    rows = models.ProgrammeRevision.objects.filter(programme__squad__key=squad, programme__ref=ref)
    rows = rows.filter(number=number) if number is not None else rows.order_by("-number")
    row = rows.defer("document").first()
    if row is None:
        which = f"revision {number} of programme {ref}" if number is not None else f"programme {ref}"
        raise NotThereError(f"There is no {which} in this squad.")
    return row  # type: ignore[no-any-return]  # the manager of rows that last is of any row


def _newest(squad: str) -> QuerySet[models.Programme]:
    """Give a squad's programmes with number and digest of their newest revisions, in one question."""
    latest = models.ProgrammeRevision.objects.filter(programme=OuterRef("pk")).order_by("-number")
    return models.Programme.objects.filter(squad__key=squad).annotate(
        newest=Subquery(latest.values("number")[:1]), newest_digest=Subquery(latest.values("digest")[:1])
    )


def _one_card(squad: str, ref: str) -> ProgrammeCard:
    row = _newest(squad).filter(ref=ref).first()
    if row is None:
        raise NotThereError(f"There is no programme {ref} in this squad.")
    return _card(row, squad)


def _card(row: Any, squad: str) -> ProgrammeCard:  # noqa: ANN401 - a programme with what _newest adds
    return ProgrammeCard(
        squad=squad,
        id=row.ref,
        name=row.name,
        revision=row.newest,
        digest=row.newest_digest,
        made_at=row.made_at,
        made_by=row.made_by,
        archived=row.archived_at is not None,
    )
