"""An athlete writes a session down on one page: what was done, how hard it was, own words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import uuid4

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _

from speedloom.report.sheets.squad import Attendance, SquadSession
from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.training.log import LogEntry
from speedloom.web.access import Request, needs
from speedloom.web.pages.mine.forms import AfterForm, first_values
from speedloom.web.pages.mine.own import Own, named
from speedloom.web.pages.mine.shown import title_of
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.opening import Open, opened_own
from speedloom.web.pages.session.saying import say_left_out
from speedloom.web.pages.session.shown import StepShown, steps_shown
from speedloom.web.pages.session.taking import Taken, take
from speedloom.web.pages.session.writing import Sheet, Typed, as_written, from_boxes
from speedloom.wording import athlete_mine as words

UNPROCESSABLE = 422


@dataclass(frozen=True)
class _There:
    """The session that is written about, and what is written of it."""

    own: Own
    opened: Open
    training: SquadSession
    one: Attendance

    @property
    def about(self) -> tuple[LogEntry, ...]:
        """What is written of this very session."""
        return tuple(entry for entry in self.opened.entries if entry.session == self.one.session.ref)

    @property
    def to_come(self) -> bool:
        """Whether it is still to come; what somebody wrote of it already can always be put right."""
        return self.one.session.date > self.opened.days.today and not self.about

    @property
    def whole(self) -> LogEntry | None:
        """What stands about the session as a whole."""
        found = [
            each.entry
            for each in self.own.standing.whole_sessions()
            if each.session is not None and each.session.ref == self.one.session.ref
        ]
        return found[-1] if found else None


@needs("write_wellness", change="write_wellness")
def session_page(
    request: Request, squad: SquadCard, athlete: AthleteCard, programme: ProgrammeCard, session: str
) -> HttpResponse:
    """Show one session of the athlete's own, and keep what they write of it."""
    there = _opened(request, squad, athlete, programme, session)
    whole = there.whole
    initial = first_values(whole)
    if request.method != "POST" or there.to_come:
        return _page(request, squad, athlete, there, AfterForm(initial=initial))
    form = AfterForm(request.POST, initial=initial)
    sheet = there.opened.sheet(request)
    typed = from_boxes(sheet, request.POST.dict())
    if request.POST.get("do") == "all":
        done = as_written(sheet, [(there.one, line) for line in there.one.work], in_one=True)
        typed.entries.extend(done.entries)
        typed.left_out.extend(done.left_out)
    if form.is_valid() and not typed.faults:
        typed.entries.extend(_about_the_whole(sheet, there, form))
        taken = take(request.actor, squad.key, programme.id, typed.entries)
        if not taken.refused:
            _say(request, taken)
            say_left_out(request, typed.left_out)
            where = [squad.key, athlete.ref, programme.id, session]
            return HttpResponseRedirect(reverse("mine_session", args=where))
        typed.faults.update({one.id: one.why for one in taken.refused})
        there = _opened(request, squad, athlete, programme, session)
    return _page(request, squad, athlete, there, form, typed=typed)


def _opened(
    request: Request, squad: SquadCard, athlete: AthleteCard, programme: ProgrammeCard, session: str
) -> _There:
    own = named(request.actor, squad.key, athlete.ref, programme.id, today=localdate())
    there = opened_own(request, squad, programme, athlete, session)
    training = there.session
    if own is None or training is None:
        raise Http404(_("This session is not in the programme any more; your page has what is."))
    one = next(each for each in training.present if each.session.ref == session)
    return _There(own, there, training, one)


def _about_the_whole(sheet: Sheet, there: _There, form: AfterForm) -> Iterable[LogEntry]:
    if not form.has_changed():
        return
    said, old = form.said, there.whole
    if old is None:
        yield sheet.pen.of_session(there.one, **said)
    else:
        status = "done" if old.status in {"absent", "skipped"} else old.status
        yield sheet.pen.instead(old, (), status=status, **said)


def _say(request: Request, taken: Taken) -> None:
    if taken.stored:
        messages.success(request, _("Written down."))
    for one in taken.asked:
        messages.warning(
            request, _("%s Kept as typed, marked unusual; correct it, or leave it.") % one.question
        )
    for clash in taken.clashing:
        messages.error(request, clash.why)


def _page(
    request: Request,
    squad: SquadCard,
    athlete: AthleteCard,
    there: _There,
    form: AfterForm,
    *,
    typed: Typed | None = None,
) -> HttpResponse:
    steps = steps_shown(
        there.opened.document,
        there.training,
        there.opened.entries,
        catalogue=there.opened.catalogue,
        units=units_of(request.actor),
        on=there.opened.days.on,
    )
    wrong = typed is not None
    stopped = there.own.stopped(there.one.session.date)
    rows = [row for step in steps for row in step.rows]
    context = {
        "squad": squad,
        "card": athlete,
        "programme": there.own.card.id,
        "session": there.one.session,
        "title": title_of(there.one.session),
        "steps": _with_typed(steps, request) if wrong else steps,
        "stopped": stopped,
        "one_tap": not stopped and any(not (row.limit or row.held or row.over) for row in rows),
        "faults": typed.faults.values() if typed else (),
        "form": form,
        "nonce": uuid4().hex,
        "words": words,
        "ahead": there.to_come,
        "today": there.opened.days.today,
    }
    return render(request, "mine/written.html", context, status=UNPROCESSABLE if wrong else 200)


def _with_typed(steps: Iterable[StepShown], request: Request) -> list[StepShown]:
    """Put what was typed back into its boxes."""
    typed = {
        name.removeprefix("box:"): str(text) for name, text in request.POST.items() if name.startswith("box:")
    }
    return [step.with_typed(typed) for step in steps]
