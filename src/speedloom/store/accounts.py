"""The accounts of a site, for whoever keeps it: listed, closed, opened again, helped in."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction

from speedloom.store import models
from speedloom.store._rows import note
from speedloom.store.cards import AccountCard, Actor
from speedloom.store.people import actor_of, end_links, open_links
from speedloom.store.permissions import require
from speedloom.store.refusals import NotThereError, RefusedError
from speedloom.store.signing_in import one_time_secret

HELP_LIVES = timedelta(days=1)


def accounts(actor: Actor) -> tuple[AccountCard, ...]:
    """List every account of the site, by name."""
    require(actor, "keep_site")
    return tuple(
        AccountCard(
            person=row.pk,
            login=row.login,
            name=row.name,
            keeper=row.keeper,
            open=row.is_active,
            has_password=row.has_usable_password(),
            joined=row.joined_at,
            last_seen=row.last_login,
        )
        for row in models.Person.objects.order_by("name", "pk")
    )


@transaction.atomic
def close_account(actor: Actor, person: int, *, back: bool = False) -> None:
    """Close an account, or open it again: nobody enters by it, and what the person wrote stays.

    Links the person made end with it, and stay ended when it is opened again.

    Raises:
        RefusedError: the keeper's own account, which would leave the site to nobody.
    """
    row = _account(actor, person)
    if row.pk == actor.person:
        raise RefusedError("You look after this site; your own account stays open.")
    row.is_active = back
    row.save(update_fields=["is_active"])
    end_links(open_links().filter(maker=row))
    note(actor, "keep_site", squad=None, about=row.login, detail="opened" if back else "closed")


def help_in(actor: Actor, person: int) -> str:
    """Make a link for somebody who has lost the password: it signs them in once, within a day.

    Raises:
        RefusedError: the account is closed, or is another keeper's.
    """
    row = _account(actor, person)
    if not row.is_active or (row.keeper and row.pk != actor.person):
        raise RefusedError("Expected an open account that does not look after the site.")
    note(actor, "keep_site", squad=None, about=row.login, detail="one-time link")
    return one_time_secret(actor_of(row), lives=HELP_LIVES)


def _account(actor: Actor, person: int) -> models.Person:
    require(actor, "keep_site")
    row = models.Person.objects.filter(pk=person).first()
    if row is None:
        raise NotThereError("There is no such account.")
    return row
