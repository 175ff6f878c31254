"""The service worker's file, at the top of the site: only from there does it reach the session pages."""

from __future__ import annotations

from django.contrib.staticfiles import finders
from django.http import FileResponse, Http404
from django.http.response import HttpResponseBase

from speedloom.web.access import Request, signed_in

FILE = "speedloom/worker.js"


@signed_in
def worker(request: Request) -> HttpResponseBase:  # noqa: ARG001 - the same file for everybody
    """Give the worker; it holds nobody's data."""
    path = finders.find(FILE)
    if not isinstance(path, str):
        raise Http404
    answer = FileResponse(open(path, "rb"), content_type="text/javascript")  # noqa: SIM115, PTH123 - closed when sent
    answer["Cache-Control"] = "no-cache"
    return answer
