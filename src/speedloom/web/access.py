"""Who gets in: each view says what it takes, and a view that says nothing is a failing test.

`@everybody`, `@signed_in` or `@needs("see_squad")` stand above a view. `needs` looks at the address: `squad`,
`athlete` and `programme` in it are fetched for the person who asks and given to the view as cards.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import dataclass
from functools import wraps
from typing import Any, Literal

from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils.translation import gettext as _
from django_htmx.middleware import HtmxDetails

from speedloom.store.athletes import athlete as athlete_card
from speedloom.store.cards import Actor
from speedloom.store.permissions import Action, require
from speedloom.store.programmes import programme_card
from speedloom.store.refusals import (
    ConflictError,
    ExpiredError,
    NotAllowedError,
    NotThereError,
    NotYoursToLiftError,
    RefusedError,
    TooManyTriesError,
)
from speedloom.store.signing_in import signed_in as person_of
from speedloom.store.squads import squad_card
from speedloom.web import refused
from speedloom.web.zones import in_zone_of

STATUS: dict[type[Exception], int] = {
    NotAllowedError: 403,
    NotThereError: 404,
    ConflictError: 409,
    ExpiredError: 410,
    RefusedError: 422,
    TooManyTriesError: 429,
}
"""What the store refuses, as HTTP says it; a form shows a refusal at its field before it comes to this."""
LOOKS = {"GET", "HEAD"}
View = Callable[..., HttpResponseBase]


class Request(HttpRequest):
    """A request of somebody who is signed in, as views get it."""

    actor: Actor
    htmx: HtmxDetails


@dataclass(frozen=True)
class Access:
    """What a view takes: nothing, an account, or permissions for looking and for changing."""

    who: Literal["everybody", "signed_in", "permitted"]
    look: Action | None = None
    change: Action | None = None


class RefusalMiddleware:
    """Turns what the store refuses into pages, wherever in a view it was refused."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next in line."""
        self._next = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer; what names people is kept by no cache on the way and by no browser others use."""
        response = self._next(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Answer what the store refused with the page for it."""
        status = next((status for kind, status in STATUS.items() if isinstance(error, kind)), None)
        title = _("Not yours to lift") if isinstance(error, NotYoursToLiftError) else ""
        return refused.page(request, status=status, why=str(error), title=title) if status else None


def person(request: HttpRequest) -> Actor | None:
    """Give the person who is signed in, looked up once a request, or None."""
    if not hasattr(request, "_person"):
        request._person = person_of(request)  # type: ignore[attr-defined]  # noqa: SLF001 - kept where it is short-lived
    return request._person  # type: ignore[attr-defined,no-any-return]  # noqa: SLF001 - as above


def actor_in_templates(request: HttpRequest) -> dict[str, object]:
    """Give every template the person as `actor`, or None."""
    return {"actor": person(request)}


def everybody(view: View) -> View:
    """Mark a view that takes no account: signing in, links with a secret, the health check."""
    view.access = Access("everybody")  # type: ignore[attr-defined]
    return view


def signed_in(view: View) -> View:
    """Let everybody with an account in; what they see is the store's to say."""

    @wraps(view)
    def inner(request: Request, **kwargs: Any) -> HttpResponseBase:  # noqa: ANN401 - parts of the address
        actor = person(request)
        if actor is None:
            return _to_sign_in(request)
        request.actor = actor
        return view(request, **kwargs)

    inner.access = Access("signed_in")  # type: ignore[attr-defined]
    return inner


def needs(look: Action | None, *, change: Action | None = None) -> Callable[[View], View]:
    """Let those in who may do this in the squad, or about the athlete, of the address.

    Args:
        look: what GET takes; None refuses it, for what is only sent to.
        change: what every other method takes; None refuses them all.
    """

    def around(view: View) -> View:
        @wraps(view)
        def inner(request: Request, **kwargs: Any) -> HttpResponseBase:  # noqa: ANN401 - parts of the address
            actor = person(request)
            if actor is None:
                return _to_sign_in(request)
            request.actor = actor
            action = look if request.method in LOOKS else change
            if action is None:
                return refused.page(request, status=405, why=_("This address does not take what was asked."))
            fetched = _fetched(actor, action, kwargs)
            with in_zone_of(fetched["squad"]) if "squad" in fetched else nullcontext():
                return view(request, **fetched)

        inner.access = Access("permitted", look, change)  # type: ignore[attr-defined]
        return inner

    return around


def _fetched(actor: Actor, action: Action, parts: dict[str, Any]) -> dict[str, Any]:
    squad, athlete = parts.get("squad"), parts.get("athlete")
    if actor.of(squad or "") is not None or "squad" not in parts:
        require(actor, action, squad=squad, athlete=athlete)
    fetched = dict(parts)
    if squad is not None:
        fetched["squad"] = squad_card(actor, squad)
    if squad is not None and athlete is not None:
        fetched["athlete"] = athlete_card(actor, squad, athlete)
    if squad is not None and "programme" in parts:
        fetched["programme"] = programme_card(actor, squad, parts["programme"])
    return fetched


def _to_sign_in(request: HttpRequest) -> HttpResponseBase:
    """Send a page to sign-in and back; a part of a page, or something sent, is answered 401."""
    if request.method not in LOOKS or request.headers.get("HX-Request"):
        return refused.page(
            request, status=401, why="You are not signed in any more; sign in and send it again."
        )
    return redirect_to_login(request.get_full_path())
