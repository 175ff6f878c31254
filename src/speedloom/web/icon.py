"""The site's mark where browsers look for one by themselves: beside a PDF there is no page to name it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.templatetags.static import static

from speedloom.web.access import everybody


@everybody
def icon(request: HttpRequest) -> HttpResponse:  # noqa: ARG001 - the same for everybody
    """Send the browser to the mark."""
    return HttpResponseRedirect(static("speedloom/mark.svg"))
