"""Signing in and out: passwords with a brake, one-time links, tokens of the API."""

from __future__ import annotations

from datetime import timedelta
from importlib import import_module
from typing import Any

from django.conf import settings
from django.contrib import auth
from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.http import HttpRequest

from speedloom.store import models
from speedloom.store._rows import now
from speedloom.store.cards import Actor
from speedloom.store.people import actor_of, plain
from speedloom.store.refusals import ExpiredError, TooManyTriesError
from speedloom.store.tokens import hashed, new_secret

BACKEND = "speedloom.store.signing_in.PersonBackend"
LOOK_BACK = timedelta(minutes=15)
MOST_TRIES, MOST_TRIES_OF_A_LOGIN, MOST_TRIES_FROM_A_PLACE = 5, 50, 30
"""Failures in fifteen minutes: of a login from one place, of a login from anywhere, from one place."""
LINK_LIVES = timedelta(minutes=10)
LONGEST_PASSWORD = 500
"""Longer ones are no passwords, but work for the hash."""


class PersonBackend:
    """Django's way to an account."""

    def authenticate(self, _request: HttpRequest | None, **credentials: Any) -> models.Person | None:  # noqa: ANN401
        """Give the account of a login and password, in the same time whether there is one or not."""
        login, password = str(credentials.get("login", "")), str(credentials.get("password", ""))
        row = models.Person.objects.filter(login=plain(login), is_active=True).first()
        if row is None or not row.has_usable_password():
            make_password(password[:LONGEST_PASSWORD])
            return None
        return row if len(password) <= LONGEST_PASSWORD and row.check_password(password) else None

    def get_user(self, user_id: int) -> models.Person | None:
        """Give an account by its number."""
        return models.Person.objects.filter(pk=user_id, is_active=True).first()


def signed_in(request: HttpRequest) -> Actor | None:
    """Give the person of a session, or None."""
    row = auth.get_user(request)
    return actor_of(row) if isinstance(row, models.Person) else None


def sign_in(request: HttpRequest, *, login: str, password: str) -> Actor | None:
    """Sign in by password; None when login and password do not belong together.

    Raises:
        TooManyTriesError: too many failures in the last fifteen minutes.
    """
    keys = _keys(login, str(request.META.get("REMOTE_ADDR", "")))
    since = now() - LOOK_BACK
    for key, most in keys.items():
        if models.SignInFailure.objects.filter(key=key, at__gte=since).count() >= most:
            raise TooManyTriesError("Too many tries. Wait fifteen minutes, or ask for a new link.")
    row = auth.authenticate(request, login=login, password=password)
    if not isinstance(row, models.Person):
        _failed(keys)
        return None
    auth.login(request, row, backend=BACKEND)
    return actor_of(row)


def _keys(login: str, address: str) -> dict[str, int]:
    name = plain(login)
    return {
        hashed(f"both {name} {address}"): MOST_TRIES,
        hashed(f"login {name}"): MOST_TRIES_OF_A_LOGIN,
        hashed(f"place {address}"): MOST_TRIES_FROM_A_PLACE,
    }


def _failed(keys: dict[str, int]) -> None:
    moment = now()
    models.SignInFailure.objects.filter(at__lt=moment - timedelta(hours=1)).delete()
    models.SignInFailure.objects.bulk_create(models.SignInFailure(key=key, at=moment) for key in keys)


def sign_out(request: HttpRequest) -> None:
    """End the session."""
    auth.logout(request)


def enter(request: HttpRequest, actor: Actor) -> None:
    """Sign a person in who has just proved who they are: by an invitation, or with a new password."""
    auth.login(request, models.Person.objects.get(pk=actor.person), backend=BACKEND)


def one_time_secret(actor: Actor, *, lives: timedelta = LINK_LIVES) -> str:
    """Make the secret of a link that signs a person in, once, within ten minutes."""
    secret, moment = new_secret(), now()
    models.OneTimeSignIn.objects.filter(expires_at__lt=moment).delete()
    models.OneTimeSignIn(person_id=actor.person, secret=hashed(secret), expires_at=moment + lives).save()
    return secret


@transaction.atomic
def sign_in_once(request: HttpRequest, secret: str) -> Actor:
    """Sign in by a one-time link.

    Raises:
        ExpiredError: it was used, is too old, or never was.
    """
    moment = now()
    fresh = models.OneTimeSignIn.objects.filter(
        secret=hashed(secret), used_at__isnull=True, expires_at__gt=moment, person__is_active=True
    )
    row = fresh.select_related("person").first()
    if row is None or not fresh.update(used_at=moment):
        raise ExpiredError("This link was used or is too old; start Speedloom again, or sign in.")
    auth.login(request, row.person, backend=BACKEND)
    return actor_of(row.person)


def tidy_up() -> None:
    """Forget sessions, one-time links and failures that are over."""
    moment = now()
    import_module(settings.SESSION_ENGINE).SessionStore.clear_expired()
    models.OneTimeSignIn.objects.filter(expires_at__lt=moment).delete()
    models.SignInFailure.objects.filter(at__lt=moment - timedelta(hours=1)).delete()


def by_api_token(secret: str) -> Actor | None:
    """Give the person of an API token, or None for one that is unknown or taken back."""
    row = (
        models.ApiToken.objects.select_related("person")
        .filter(secret=hashed(secret), revoked_at__isnull=True, person__is_active=True)
        .first()
    )
    if row is None:
        return None
    models.ApiToken.objects.filter(pk=row.pk).update(last_used=now())
    return actor_of(row.person)
