"""How a form that is not accepted is answered to a browser: as the page it is, not as a fault of the site.

Browsers write every answer of 4xx into their console as an error, also where it is a form with a message
at its field. Programs still get 422 and 409 (docs/decisions/0011).
"""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest
from django.http.response import HttpResponseBase

FORM = {409, 422}
"""Answers that are the form again, with what was typed and what stands against it."""
HEADER = "X-Not-Accepted"


class FormMiddleware:
    """Answers 200 to a browser where a form comes back, and says in a header what it would have been."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next in line."""
        self._next = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer."""
        response = self._next(request)
        if response.status_code in FORM and shown_by_a_browser(request):
            response[HEADER] = str(response.status_code)
            response.status_code = 200
        return response


def shown_by_a_browser(request: HttpRequest) -> bool:
    """Say whether the answer becomes a page or a part of one, by what browsers and htmx say of themselves."""
    return request.headers.get("HX-Request") == "true" or request.headers.get("Sec-Fetch-Mode") == "navigate"
