"""What is sent holds no sign NUL: no keyboard writes it, and not every database keeps it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, QueryDict
from django.http.response import HttpResponseBase
from django.utils.translation import gettext

from speedloom.web import refused

NUL = "\0"
_ESCAPED = re.compile(rb"(?<!\\)(?:\\\\)*\\u0000")
"""How JSON writes the sign."""


class TypedMiddleware:
    """Refuses an address or a form with the sign NUL in it, the same way on every database."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next in line."""
        self._next = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer."""
        return self._next(request)

    def process_view(self, request: HttpRequest, view: object, *_: object) -> HttpResponse | None:
        """Answer before the view does; the API says it in its own way."""
        if getattr(view, "of_api", False):
            return None
        if NUL in request.path or _named(request.GET):
            return refused.page(request, status=404, why=gettext("There is no such page; was it cut short?"))
        if request.content_type == "application/json":
            return _of_json() if _ESCAPED.search(request.body) else None
        wrong = _named(request.POST)
        if not wrong:
            return None
        why = gettext(
            "Expected text without the sign NUL in %(names)s; go back, leave it out and send it again."
        )
        return refused.page(request, status=422, why=why % {"names": ", ".join(wrong)})


def _named(sent: QueryDict) -> list[str]:
    """Name the fields that hold the sign."""
    fields = ((name, texts) for name, texts in sent.lists() if any(NUL in one for one in (name, *texts)))
    return sorted(name.replace(NUL, "") for name, _ in fields)


def _of_json() -> HttpResponse:
    said = {"why": gettext("Expected text without the sign NUL; leave it out and send it again.")}
    return HttpResponse(json.dumps(said), status=422, content_type="application/json")
