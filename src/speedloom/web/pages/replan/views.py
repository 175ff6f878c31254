"""Planning again: the news since the revision, what it would change, and accepting it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

from django import forms
from django.http import HttpResponse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.store.briefs import brief_to_plan
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.limits_now import known_limits
from speedloom.store.logs import log
from speedloom.store.programmes import read_programme
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.replan.answers import UNPROCESSABLE, Desk
from speedloom.web.pages.replan.under_way import Job, Outcome, Report, under_way
from speedloom.wording.brief_news import news
from speedloom.workflows.brief_now import brief_again, brief_now
from speedloom.workflows.missed_days import missed_days
from speedloom.workflows.replan import replan
from speedloom.workflows.standing_log import standing_log

REASON = gettext_lazy("Planned again")
TEMPLATE = "replan/replan.html"


class AgainForm(forms.Form):
    """From which day, and why."""

    since = forms.DateField(
        label=gettext_lazy("First day that may change"),
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        help_text=gettext_lazy("The days before it are over and stay as they are."),
    )
    reason = forms.CharField(
        label=gettext_lazy("Why, in a few words"),
        max_length=200,
        widget=forms.TextInput({"autocomplete": "off"}),
        help_text=gettext_lazy("They stand beside the revision."),
    )

    def __init__(self, *args: Any, last: date | None, **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Keep the last day that is planned; None where no brief says it."""
        super().__init__(*args, **more)
        self.last = last

    def clean_since(self) -> date:
        """Hold the day against the programme's end."""
        since: date = self.cleaned_data["since"]
        if self.last is not None and since > self.last:
            said = _("Expected a day up to %(last)s, the last one planned, got %(since)s.")
            raise forms.ValidationError(said % {"last": self.last, "since": since})
        return since


@dataclass(frozen=True)
class _News:
    """What is new since the revision, gathered from all the squad's pages."""

    document: Programme
    now: ResolvedBrief
    lost: dict[str, tuple[date, ...]]
    since: date

    @property
    def told(self) -> tuple[str, ...]:
        """The news in words."""
        was = self.document.brief.content
        if was is None:
            return ()
        again = brief_again(was, self.now, lost=self.lost, since=self.since)
        return news(was, again, since=self.since)

    def job(self, card: ProgrammeCard, reason: str) -> Job:
        """Begin to plan again, or find the plan that was begun."""
        said = [
            card.digest,
            self.since.isoformat(),
            reason,
            str(sorted(self.lost.items())),
            canonical(self.now),
        ]
        key = sha256("\n".join(said).encode()).hexdigest()

        def make(report: Report) -> Outcome:
            return replan(
                self.document,
                since=self.since,
                lost=self.lost,
                brief=self.now,
                rulebook=load_rulebook(),
                catalogue=load_catalogue(),
                reason=reason,
                progress=report,
            )

        return under_way(key, make)


def _gathered(request: Request, squad: SquadCard, document: Programme, *, since: date) -> _News | None:
    was = document.brief.content
    if was is None:
        return None
    whole, measured = brief_to_plan(request.actor, squad.key)
    now = brief_now(
        was,
        whole,
        measured,
        since=since,
        known=known_limits(squad.key),
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    written = standing_log(log(request.actor, squad.key, document.id), document)
    lost = missed_days(written, until=since - timedelta(days=1))
    return _News(document, now, dict(lost), since)


def _faults(form: forms.Form) -> list[str]:
    """Name the faults by their fields, for a part of the page that has no fields."""
    return [f"{form.fields[name].label}: {' '.join(map(str, said))}" for name, said in form.errors.items()]


@needs("change_programme", change="change_programme")
def replan_page(request: Request, squad: SquadCard, programme: ProgrammeCard) -> HttpResponse:
    """List the news; show what planning again would change; save it when it is accepted."""
    document = read_programme(request.actor, squad.key, programme.id)
    typed = request.POST if request.method == "POST" else request.GET
    asked = "since" in typed
    content = document.brief.content
    form = AgainForm(
        typed if asked else None,
        initial={"since": localdate(), "reason": str(REASON)},
        last=content.end if content else None,
    )
    valid = form.is_valid()
    since = form.cleaned_data["since"] if valid else localdate()
    found = _gathered(request, squad, document, since=since)
    context: dict[str, object] = {
        "form": form,
        "news": found.told if found else (),
        "by_hand": found is None,
        "kept": [("since", since.isoformat()), ("reason", form.cleaned_data["reason"])] if valid else (),
    }
    desk = Desk(request, squad, programme, document, since, TEMPLATE, context)
    if asked and not valid:
        return desk.page(status=UNPROCESSABLE, faults=_faults(form) if desk.is_part else ())
    if not asked or found is None:
        return desk.page()
    job = found.job(programme, form.cleaned_data["reason"].strip() or _("Planned again"))
    return desk.accepted(job) if request.method == "POST" else desk.looked(job)
