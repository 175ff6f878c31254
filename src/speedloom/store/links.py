"""Links without sign-in: a private calendar feed, or one athlete's sheet; taken back at will."""

from __future__ import annotations

from typing import Literal

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import note, now, programme_row, squad_row
from speedloom.store.cards import Actor, LinkCard
from speedloom.store.limits_now import linked_with_limits_now
from speedloom.store.people import may_share
from speedloom.store.permissions import require, within
from speedloom.store.programmes import linked_programme
from speedloom.store.refusals import ExpiredError, NotThereError
from speedloom.store.tokens import hashed, new_secret
from speedloom.training.programme import Programme


@transaction.atomic
def make_link(
    actor: Actor, squad: str, programme: str, *, kind: Literal["feed", "sheet"], athlete: str | None
) -> tuple[LinkCard, str]:
    """Make a link to a programme or one athlete's part of it; its secret is given here and never again."""
    home = squad_row(actor, "share_link", squad, athlete=athlete)
    row = programme_row(home, programme)
    one = models.Athlete.objects.filter(squad=home, ref=athlete).first() if athlete else None
    if athlete and one is None:
        raise NotThereError(f"There is no athlete {athlete} in this squad.")
    secret = new_secret()
    link = models.ShareLink(
        kind=kind,
        programme=row,
        athlete=one,
        secret=hashed(secret),
        maker_id=actor.person,
        made_by=actor.login,
        made_at=now(),
    )
    link.save()
    note(actor, "share_link", squad=home, about=athlete or programme, detail=f"{kind} made")
    return _card(link), secret


def links(actor: Actor, squad: str, programme: str) -> tuple[LinkCard, ...]:
    """List the links to a programme that this person may take back, newest first."""
    rows = models.ShareLink.objects.filter(programme__squad__key=squad, programme__ref=programme)
    reach = within(actor, "share_link", squad=squad)
    if reach is not None:
        rows = rows.filter(athlete__ref__in=reach)
    return tuple(_card(row) for row in rows.select_related("programme__squad", "athlete").order_by("-pk"))


@transaction.atomic
def revoke_link(actor: Actor, squad: str, number: int) -> None:
    """Take a link back; who follows it is told so."""
    rows = models.ShareLink.objects.select_related("programme__squad", "athlete")
    row = rows.filter(pk=number, programme__squad__key=squad).first()
    if row is None:
        raise NotThereError("There is no such link in this squad.")
    require(actor, "share_link", squad=squad, athlete=row.athlete.ref if row.athlete else None)
    row.revoked_at = row.revoked_at or now()
    row.save(update_fields=["revoked_at"])
    note(
        actor,
        "share_link",
        squad=row.programme.squad,
        about=row.programme.ref,
        detail=f"{row.kind} taken back",
    )


def followed(secret: str, *, kind: Literal["feed", "sheet"]) -> tuple[LinkCard, Programme]:
    """Give what a link shows: the programme, cut to the link's athlete.

    Raises:
        ExpiredError: unknown, taken back, or its maker may not share this any more.
    """
    rows = models.ShareLink.objects.select_related("programme__squad", "athlete", "maker")
    row = rows.filter(secret=hashed(secret), kind=kind, revoked_at__isnull=True).first()
    if row is None or not may_share(row):
        raise ExpiredError("This link was taken back; ask your coach for a new one.")
    card = _card(row)
    athletes = frozenset({card.athlete}) if card.athlete else None
    programme = linked_programme(card.squad, card.programme, athletes)
    return card, linked_with_limits_now(card.squad, card.athlete, programme) if card.athlete else programme


def _card(row: models.ShareLink) -> LinkCard:
    return LinkCard(
        id=row.pk,
        kind="feed" if row.kind == "feed" else "sheet",
        squad=row.programme.squad.key,
        programme=row.programme.ref,
        athlete=row.athlete.ref if row.athlete else None,
        made_by=row.made_by,
        made_at=row.made_at,
        revoked_at=row.revoked_at,
    )
