"""The API's page: the person's keys, and every call with what it takes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt

from speedloom.store.api_tokens import make_token, revoke_token, tokens
from speedloom.web.access import Request, everybody, signed_in
from speedloom.web.pages.api.problems import refused
from speedloom.web.pages.api.site import description


@dataclass(frozen=True)
class CallShown:
    """One call, as the page lists it."""

    method: str
    path: str
    summary: str
    asks: tuple[str, ...]
    takes: str
    gives: str


@signed_in
def api_page(request: Request) -> HttpResponse:
    """Show the person's keys and list the calls."""
    return _page(request)


def _page(request: Request, *, secret: str = "", fault: str = "", status: int = 200) -> HttpResponse:
    keys = [key for key in tokens(request.actor) if key.revoked_at is None]
    context = {"keys": keys, "secret": secret, "fault": fault, "calls": calls()}
    return render(request, "api/api.html", context, status=status)


@signed_in
def make_key(request: Request) -> HttpResponse:
    """Make a key and show it, this once."""
    if request.method != "POST":
        return HttpResponseRedirect(reverse("api_page"))
    title = request.POST.get("title", "").replace("\0", "").strip()
    if not title:
        fault = _("Expected a name for the key, such as the program that will use it.")
        return _page(request, fault=fault, status=422)
    _card, secret = make_token(request.actor, title=title)
    return _page(request, secret=secret)


@signed_in
def take_back_key(request: Request, number: int) -> HttpResponse:
    """Take a key back; it opens nothing any more."""
    if request.method == "POST":
        revoke_token(request.actor, number)
        messages.success(request, _("The key was taken back; it opens nothing any more."))
    return HttpResponseRedirect(reverse("api_page"))


@csrf_exempt
@everybody
def no_such_call(request: HttpRequest, rest: str) -> HttpResponse:  # noqa: ARG001 - part of the address
    """Say so in JSON, to whoever asks."""
    return refused(request, 404, "There is no such call.", todo="the page of the API lists every call")


@cache
def calls() -> tuple[CallShown, ...]:
    """List every call of the API."""
    return tuple(
        CallShown(
            method=method.upper(),
            path=path,
            summary=call["summary"],
            asks=tuple(one["name"] for one in call.get("parameters", ()) if one["in"] == "query"),
            takes=_named(call.get("requestBody", {})),
            gives=_named(next(iter(call["responses"].values()))),
        )
        for path, methods in description()["paths"].items()
        for method, call in methods.items()
    )


def _named(part: dict[str, object]) -> str:
    """Name the document in a body or an answer."""
    text = str(part)
    name = text.partition("#/components/schemas/")[2].partition("'")[0]
    return f"{name} …" if name and "'array'" in text else name
