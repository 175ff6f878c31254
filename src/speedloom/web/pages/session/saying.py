"""Says after a form was taken how much was saved, and asks about what is strange."""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from speedloom.web.pages.session.taking import Taken


def hand(by: str, sent_by: str | None) -> str:
    """Name who wrote something, and who sent it in where that is somebody else."""
    if sent_by is None or sent_by == by:
        return by
    return _("%(by)s, sent in by %(sent_by)s") % {"by": by, "sent_by": sent_by}


def say_left_out(request: HttpRequest, left_out: Iterable[str]) -> None:
    """Keep for the next page who was left out of what was written in one tap, and why."""
    those = "; ".join(left_out)
    if those:
        messages.warning(request, _("Not written as done: %(those)s.") % {"those": those})


def say(request: HttpRequest, taken: Taken) -> None:
    """Keep for the next page how much was saved and what is asked."""
    kept = len(taken.stored)
    if kept:
        messages.success(request, ngettext("%d entry saved.", "%d entries saved.", kept) % kept)
    for one in taken.asked:
        said = _("%s Kept as typed, marked unusual; correct it, or leave it.") % one.question
        messages.warning(request, said)
    for clash in taken.clashing:
        messages.error(request, clash.why)
