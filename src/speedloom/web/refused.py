"""Pages for what does not go: not found, not allowed, expired, and a fault of the program."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _


def _titles(*, doing: bool = False) -> dict[int, str]:
    return {
        400: _("That could not be read"),
        401: _("Please sign in"),
        403: _("Not yours to do") if doing else _("Not yours to see"),
        404: _("Nothing is here"),
        405: _("That does not go here"),
        409: _("Somebody was quicker"),
        410: _("This link is over"),
        422: _("That cannot be stored"),
        429: _("One moment"),
        500: _("A fault of the program"),
    }


def page(request: HttpRequest, *, status: int, why: str, title: str = "") -> HttpResponse:
    """Say on a page what happened and where to go on; `title` fits better than the usual one."""
    titles = _titles(doing=request.method not in {"GET", "HEAD"})
    context = {"title": title or titles.get(status, titles[400]), "why": why, "status": status}
    return render(request, "refused.html", context, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Answer 400: too large, or not readable."""
    return page(request, status=400, why=_("The site could not read what was sent; it may be too large."))


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Answer 403."""
    return page(request, status=403, why=_("Your role does not reach this page; ask the owner of the squad."))


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Answer 404."""
    return page(request, status=404, why=_("There is no such page. Was the address cut short?"))


def fault(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 - nothing of it is to be trusted now
    """Answer 500, without looking anything up: the database may be the fault."""
    why = _("Nothing was saved by this step. Go back and try again; if it stays, report what you did.")
    context = {"title": _titles()[500], "why": why, "status": 500, "actor": None}
    return HttpResponse(render_to_string("refused.html", context), status=500)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001 - Django's own name
    """Answer a form whose token is missing or old."""
    why = _(
        "This form was open too long or came from elsewhere. Go back, load the page anew and send it again."
    )
    return page(request, status=403, why=why)
