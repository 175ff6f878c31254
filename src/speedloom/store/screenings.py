"""What was asked before hard work, and by whom: a clinician's "not cleared" is a clinician's to change."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from django.db.models import QuerySet

from speedloom.store import models
from speedloom.store._rows import athlete_row, now
from speedloom.store.cards import Actor, AskedCard, role_named
from speedloom.store.permissions import within
from speedloom.store.refusals import RefusedError
from speedloom.training.athlete import Restriction, Screening
from speedloom.training.document import canonical
from speedloom.training.fields import Frozen


class AskedNow(Frozen):
    """What is known of one athlete: the newest answers, and a clinician's that stand in their way."""

    screening: Screening | None
    last: AskedCard | None
    """The newest answers with who wrote them down; None for those of a file."""
    held: AskedCard | None


def asked_now(actor: Actor, squad: str, ref: str) -> AskedNow:
    """Give what was asked of one athlete."""
    row = athlete_row(actor, "see_health", squad, ref)
    rows = models.Asked.objects.filter(athlete=row).select_related("athlete").order_by("pk")
    cards = tuple(_card(one) for one in rows)
    return AskedNow(
        screening=Screening.model_validate_json(row.screening) if row.screening else None,
        last=cards[-1] if cards else None,
        held=_standing(cards).get(ref),
    )


def not_cleared(actor: Actor, squad: str) -> Mapping[str, AskedCard]:
    """Give the answers of clinicians that stand: by athlete, where hard work is not cleared."""
    rows = models.Asked.objects.filter(athlete__squad__key=squad, role="clinician")
    only = within(actor, "see_health", squad=squad)
    if only is not None:
        rows = rows.filter(athlete__ref__in=only)
    return _standing(_card(row) for row in rows.select_related("athlete").order_by("pk"))


def barred(actor: Actor, squad: str) -> Mapping[str, Restriction]:
    """Give what the newest answers forbid as limits, by athlete, of those whose health one may see."""
    rows = models.Athlete.objects.filter(squad__key=squad)
    only = within(actor, "see_health", squad=squad)
    return barred_of(rows if only is None else rows.filter(ref__in=only))


def barred_of(rows: QuerySet[models.Athlete]) -> dict[str, Restriction]:
    """Give the same of athletes' rows, whoever asks."""
    asked = rows.exclude(screening="").values_list("ref", "screening")
    found = ((ref, Screening.model_validate_json(text).limit) for ref, text in asked)
    return {ref: limit for ref, limit in found if limit is not None}


def keep_answers(actor: Actor, row: models.Athlete, asked: Screening) -> None:
    """Keep what was asked; the athlete's row is changed with it, and saved by who calls.

    Raises:
        RefusedError: it would clear somebody whom a clinician has not cleared.
    """
    membership = actor.of(row.squad.key)
    role = membership.role if membership else "viewer"
    rows = models.Asked.objects.filter(athlete=row, role="clinician").select_related("athlete")
    held = _standing(_card(one) for one in rows.order_by("pk")).get(row.ref)
    if held is not None and asked.cleared and role != "clinician":
        raise RefusedError(
            f"{held.by}, clinician, wrote on {held.screening.on} that hard work is not cleared. "
            "That stands until a clinician changes it; the other answers you can write down."
        )
    row.screening = canonical(asked)
    models.Asked(
        athlete=row, document=row.screening, role=role, name=actor.name, by=actor.login, at=now()
    ).save()


def _standing(cards: Iterable[AskedCard]) -> dict[str, AskedCard]:
    """Look at each athlete's newest answers by a clinician: what others wrote after them changes nothing."""
    newest = {card.athlete: card for card in cards if card.role == "clinician"}
    return {ref: card for ref, card in newest.items() if not card.screening.cleared}


def _card(row: models.Asked) -> AskedCard:
    return AskedCard(
        athlete=row.athlete.ref,
        screening=Screening.model_validate_json(row.document),
        role=role_named(row.role),
        by=row.name,
        at=row.at,
    )
