"""Who gets in: a key of the person's or the session of the browser, and the permission each call names."""

from __future__ import annotations

from django.http import HttpRequest
from ninja.errors import AuthenticationError, HttpError
from ninja.security.base import AuthBase
from ninja.utils import check_csrf

from speedloom.store.cards import Actor
from speedloom.store.permissions import Action, require, within
from speedloom.store.refusals import NotAllowedError, NotThereError
from speedloom.store.signing_in import by_api_token
from speedloom.web.access import LOOKS, person

NUL = "\0"


class Call(HttpRequest):
    """A request that came through a door."""

    auth: Actor


class Key(AuthBase):
    """The door of one call: what it takes, looked at before the call is made.

    Args:
        takes: the action; None lets everybody in who has a key or is signed in.
        whole: the whole squad is meant; without it, reaching one athlete is enough, and the store cuts the
            answer to those who are reached.
    """

    openapi_type = "http"
    openapi_scheme = "bearer"
    openapi_description = "A key from the API's page, sent as `Authorization: Bearer …`."

    def __init__(self, takes: Action | None, *, whole: bool = False) -> None:
        """Keep what the call takes."""
        self.takes, self.whole = takes, whole
        super().__init__()

    def __call__(self, request: HttpRequest) -> Actor:
        """Give who asks.

        Raises:
            AuthenticationError: nobody known asks.
            NotThereError: not a squad of theirs.
            NotAllowedError: their role does not reach this far.
        """
        actor = _who(request)
        parts = request.resolver_match.kwargs if request.resolver_match else {}
        if any(NUL in str(part) for part in (*parts.values(), *request.GET.values())):
            raise NotThereError("Nothing here has such a name.")
        if self.takes is not None:
            self._let(actor, self.takes, squad=parts.get("squad", ""), athlete=parts.get("athlete"))
        return actor

    def _let(self, actor: Actor, action: Action, *, squad: str, athlete: str | None) -> None:
        if self.whole or athlete is not None or actor.of(squad) is None:
            require(actor, action, squad=squad, athlete=athlete)
        elif within(actor, action, squad=squad) == frozenset():
            doing = action.replace("_", " ")
            raise NotAllowedError(f"Your role does not allow this ({doing}); ask the owner of the squad.")


class Closed(Key):
    """The door of a call that names none: nobody gets in."""

    def __init__(self) -> None:
        """Make the door."""
        super().__init__(None)

    def __call__(self, request: HttpRequest) -> Actor:  # noqa: ARG002 - it matters to nobody
        """Refuse."""
        raise NotAllowedError("This call says nobody whom it takes, so it takes nobody.")


def _who(request: HttpRequest) -> Actor:
    header = request.headers.get("Authorization", "")
    if header:
        scheme, _, secret = header.partition(" ")
        actor = by_api_token(secret.strip()) if scheme.lower() == "bearer" else None
    else:
        actor = person(request)
        if actor is not None and request.method not in LOOKS and check_csrf(request) is not None:
            raise HttpError(403, "A call from a page needs the page's token; a program sends a key instead.")
    if actor is None:
        raise AuthenticationError(message="Expected a key (Authorization: Bearer …) that was not taken back.")
    return actor
