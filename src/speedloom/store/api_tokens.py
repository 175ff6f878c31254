"""A person's keys to the API: shown once, kept as a hash, taken back at will."""

from __future__ import annotations

from speedloom.store import models
from speedloom.store._rows import note, now
from speedloom.store.cards import Actor, ApiTokenCard
from speedloom.store.refusals import NotThereError
from speedloom.store.tokens import hashed, new_secret


def make_token(actor: Actor, *, title: str) -> tuple[ApiTokenCard, str]:
    """Make a token; its secret is given here and never again."""
    secret = new_secret()
    row = models.ApiToken(
        person_id=actor.person, title=title.strip()[:150], secret=hashed(secret), made_at=now()
    )
    row.save()
    note(actor, "make_token", squad=None, about=row.title)
    return _card(row), secret


def tokens(actor: Actor) -> tuple[ApiTokenCard, ...]:
    """List the person's own tokens, newest first."""
    return tuple(_card(row) for row in models.ApiToken.objects.filter(person_id=actor.person).order_by("-pk"))


def revoke_token(actor: Actor, number: int) -> None:
    """Take a token back; it opens nothing any more.

    Raises:
        NotThereError: not a token of this person.
    """
    mine = models.ApiToken.objects.filter(person_id=actor.person, pk=number)
    if not mine.exists():
        raise NotThereError("This is not a token of yours.")
    mine.filter(revoked_at__isnull=True).update(revoked_at=now())
    note(actor, "revoke_token", squad=None, about=str(number))


def _card(row: models.ApiToken) -> ApiTokenCard:
    return ApiTokenCard(
        id=row.pk, title=row.title, made_at=row.made_at, last_used=row.last_used, revoked_at=row.revoked_at
    )
