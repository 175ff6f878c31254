"""How a plan under way, a clash and a difference are answered: as a part of the page, or as the whole."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.errors import SpeedloomError
from speedloom.planning.clash import Clash
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.programmes import save_programme
from speedloom.store.refusals import ConflictError
from speedloom.training.programme import Programme
from speedloom.web.access import Request
from speedloom.web.pages.programme.hard_limits import above_limits_now
from speedloom.web.pages.replan.difference import DifferenceShown, difference_shown
from speedloom.web.pages.replan.under_way import Job
from speedloom.wording.books import books_of
from speedloom.wording.clashes import clash_text, repair_text
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.workflows.repair import repairs

UNPROCESSABLE, CONFLICT = 422, 409
PATIENCE_S, LONGEST_S = 0.25, 300.0
"""A page that can ask again waits a moment for the plan; one without scripts waits until it is there."""


@dataclass(frozen=True)
class Desk:
    """What is planned again, for whom, and how the page is drawn."""

    request: Request
    squad: SquadCard
    card: ProgrammeCard
    document: Programme
    since: date
    template: str
    context: dict[str, object]

    @property
    def is_part(self) -> bool:
        """Whether only the part below the form was asked for."""
        return self.request.headers.get("HX-Target") == "outcome"

    def page(self, *, status: int = 200, **more: object) -> HttpResponse:
        """Answer with the page, or with the part below its form where only that was asked for."""
        context = {
            "squad": self.squad,
            "card": self.card,
            "after": self.request.POST.get("after", self.card.digest),
            **self.context,
            **more,
        }
        template = "replan/outcome.html" if self.is_part else self.template
        return render(self.request, template, context, status=status)

    def looked(self, job: Job) -> HttpResponse:
        """Show how far the plan is, or what came of it."""
        if not job.done(within_s=PATIENCE_S if self.is_part else LONGEST_S):
            return self.page(
                under_way=job, percent=round(100 * job.share), again=self.request.get_full_path()
            )
        outcome = self._outcome(job)
        if isinstance(outcome, HttpResponse):
            return outcome
        return self.page(shown=self._difference(outcome))

    def accepted(self, job: Job) -> HttpResponse:
        """Save what was looked at as a new revision; whatever hinders it, what was typed stays."""
        if self.request.POST.get("after") != self.card.digest:
            return self._quicker()
        job.done(within_s=LONGEST_S)
        outcome = self._outcome(job)
        if isinstance(outcome, HttpResponse):
            return outcome
        shown = self._difference(outcome)
        if shown.hard or not shown.changed:
            return self.page(shown=shown, status=UNPROCESSABLE if shown.hard else 200)
        try:
            save_programme(self.request.actor, self.squad.key, outcome, after=self.card.digest)
        except ConflictError:
            return self._quicker()
        messages.success(self.request, shown.lines[0])
        return HttpResponseRedirect(reverse("programme", args=[self.squad.key, self.card.id]))

    def _outcome(self, job: Job) -> Programme | HttpResponse:
        """Give what was planned, or the answer that says why nothing was."""
        try:
            outcome = job.future.result()
        except SpeedloomError as error:
            return self.page(status=UNPROCESSABLE, faults=str(error).splitlines())
        if isinstance(outcome, Clash):
            return self.page(status=UNPROCESSABLE, **self._clash(outcome))
        return outcome

    def _difference(self, outcome: Programme) -> DifferenceShown:
        asked = self.request.POST if self.request.method == "POST" else self.request.GET
        made = self.document if outcome == self.document else outcome
        shown = difference_shown(self.document, made, since=self.since, athlete=asked.get("athlete"))
        # A limit may be newer than all that was planned from: what goes further above it is not saved.
        above = above_limits_now(self.request.actor, self.squad.key, self.document, made)
        book, catalogue = books_of(made)
        words = FindingsBook(rulebook=book, catalogue=catalogue, programme=made)
        said = tuple(finding_sentence(one, book=words) for one in above)
        return replace(shown, hard=tuple(dict.fromkeys((*shown.hard, *said))))

    def _quicker(self) -> HttpResponse:
        fault = _(
            "Somebody changed the programme meanwhile; nothing was saved. What you chose still stands here: "
            "look again at what it would change now."
        )
        return self.page(status=CONFLICT, faults=[fault], after=self.card.digest)

    def _clash(self, clash: Clash) -> dict[str, object]:
        brief = self.document.brief.content
        said = clash_text(clash, brief=brief) if brief else ""
        return {"clash": said, "repairs": [repair_text(one) for one in repairs(clash)]}
