"""The service worker's file, at the top of the site: only from there does it reach the session pages."""

from __future__ import annotations

from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import Http404, HttpResponse

from speedloom.web.access import Request, signed_in

FILE = "speedloom/worker.js"


@signed_in
def worker(request: Request) -> HttpResponse:  # noqa: ARG001 - the same file for everybody
    """Give the worker; it holds nobody's data."""
    path = finders.find(FILE)
    if not isinstance(path, str):
        raise Http404
    answer = HttpResponse(Path(path).read_bytes(), content_type="text/javascript")
    answer["Cache-Control"] = "no-cache"
    return answer
