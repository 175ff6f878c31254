"""What was asked before hard work, and by whom: a clinician's "not cleared" is a clinician's to change."""

from __future__ import annotations

from collections.abc import Mapping

from django.db.models import QuerySet

from speedloom.store import models
from speedloom.store._rows import athlete_row, now
from speedloom.store.cards import Actor, AskedCard, role_named
from speedloom.store.permissions import within
from speedloom.store.refusals import RefusedError
from speedloom.training.athlete import Screening
from speedloom.training.document import canonical


def last_asked(actor: Actor, squad: str, ref: str) -> AskedCard | None:
    """Give the newest answers with who wrote them down, or None where nobody has been asked."""
    row = athlete_row(actor, "see_health", squad, ref)
    newest = models.Asked.objects.filter(athlete=row).select_related("athlete").order_by("-pk").first()
    return _card(newest) if newest else None


def not_cleared(actor: Actor, squad: str) -> Mapping[str, AskedCard]:
    """Give the answers of clinicians that stand: by athlete, where hard work is not cleared."""
    rows = models.Asked.objects.filter(athlete__squad__key=squad)
    only = within(actor, "see_health", squad=squad)
    if only is not None:
        rows = rows.filter(athlete__ref__in=only)
    return _standing(rows)


def keep_answers(actor: Actor, row: models.Athlete, asked: Screening) -> None:
    """Keep what was asked; the athlete's row is changed with it, and saved by who calls.

    Raises:
        RefusedError: it would clear somebody whom a clinician has not cleared.
    """
    membership = actor.of(row.squad.key)
    role = membership.role if membership else "viewer"
    held = _standing(models.Asked.objects.filter(athlete=row)).get(row.ref)
    if held is not None and asked.cleared and role != "clinician":
        raise RefusedError(
            f"{held.by}, clinician, wrote on {held.screening.on} that hard work is not cleared. "
            "That stands until a clinician changes it; the other answers you can write down."
        )
    row.screening = canonical(asked)
    models.Asked(
        athlete=row, document=row.screening, role=role, name=actor.name, by=actor.login, at=now()
    ).save()


def _standing(rows: QuerySet[models.Asked]) -> dict[str, AskedCard]:
    """Look at each athlete's newest answers by a clinician: what others wrote after them changes nothing."""
    those = rows.filter(role="clinician").select_related("athlete").order_by("pk")
    newest = {row.athlete.ref: _card(row) for row in those}
    return {ref: card for ref, card in newest.items() if not card.screening.cleared}


def _card(row: models.Asked) -> AskedCard:
    return AskedCard(
        athlete=row.athlete.ref,
        screening=Screening.model_validate_json(row.document),
        role=role_named(row.role),
        by=row.name,
        at=row.at,
    )
