"""A squad's brief as revisions, and the whole brief of a squad ready to be planned."""

from __future__ import annotations

from functools import lru_cache

from django.db import IntegrityError, transaction

from speedloom.store import models
from speedloom.store._rows import note, now, squad_row
from speedloom.store.athletes import full_athletes
from speedloom.store.cards import Actor, BriefRevision
from speedloom.store.measurements import stored_measurements
from speedloom.store.refusals import ConflictError, NotThereError
from speedloom.training.brief import Brief
from speedloom.training.document import canonical
from speedloom.training.kept import of_people
from speedloom.training.measurement import Measurements


def brief(actor: Actor, squad: str, *, number: int | None = None) -> BriefRevision:
    """Give the newest revision of a squad's brief, or one by its number; its athletes stand apart.

    Raises:
        NotThereError: no such revision.
    """
    row = squad_row(actor, "see_squad", squad)
    return _card(_revision(row, number))


def brief_revisions(actor: Actor, squad: str) -> tuple[BriefRevision, ...]:
    """List every revision of a squad's brief, newest first."""
    row = squad_row(actor, "see_squad", squad)
    return tuple(_card(one) for one in models.BriefRevision.objects.filter(squad=row).order_by("-number"))


@transaction.atomic
def save_brief(actor: Actor, squad: str, changed: Brief, *, after: int, reason: str = "") -> BriefRevision:
    """Save a new revision of a brief, made from revision `after`; the same brief again saves nothing.

    Raises:
        ConflictError: somebody saved another revision meanwhile.
    """
    row = squad_row(actor, "change_squad", squad)
    latest = _revision(row, None)
    text = canonical(changed.model_copy(update={"athletes": (), "tests": ()}))
    if text == latest.document:
        return _card(latest)
    if _brief(latest.document).rules != changed.rules:
        squad_row(actor, "change_rules", squad)
    if latest.number != after:
        raise ConflictError(
            f"{latest.by} changed this meanwhile. Look at the new state and make your change again."
        )
    new = models.BriefRevision(
        squad=row, number=after + 1, document=text, by=actor.login, at=now(), reason=reason
    )
    try:
        with transaction.atomic():
            new.save()
    except IntegrityError as error:
        raise ConflictError("Somebody changed this meanwhile; look at the new state.") from error
    note(actor, "change_squad", squad=row, about=f"brief {new.number}", detail=reason)
    return _card(new)


def brief_to_plan(actor: Actor, squad: str) -> tuple[Brief, Measurements]:
    """Give a squad's brief with athletes and restrictions, and its measurements, to be resolved."""
    row = squad_row(actor, "make_programme", squad)
    athletes = full_athletes(row)
    whole = _brief(_revision(row, None).document).model_copy(update={"athletes": athletes})
    return whole, stored_measurements(row, {athlete.ref for athlete in athletes})


def _revision(squad: models.Squad, number: int | None) -> models.BriefRevision:
    rows = models.BriefRevision.objects.filter(squad=squad)
    row = (rows.filter(number=number) if number is not None else rows.order_by("-number")).first()
    if row is None:
        raise NotThereError(f"This squad's brief has no revision {number}.")
    return row  # type: ignore[no-any-return]  # the manager of rows that last is of any row


@of_people
@lru_cache(maxsize=64)
def _brief(text: str) -> Brief:
    return Brief.model_validate_json(text)


def _card(row: models.BriefRevision) -> BriefRevision:
    return BriefRevision(
        number=row.number, brief=_brief(row.document), by=row.by, at=row.at, reason=row.reason
    )
