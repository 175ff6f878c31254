"""Changes by hand: a line's numbers, a session's day, locks; the check answers before anything is saved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.checking.finding import Finding
from speedloom.errors import EditError
from speedloom.exchange.amount import amount
from speedloom.planning.edited import Change
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.programmes import read_programme, save_programme
from speedloom.store.refusals import ConflictError
from speedloom.training.programme import Prescription, Programme, Session, Week
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.found import found_of
from speedloom.web.pages.programme.shown import numbers_of, units_of
from speedloom.wording.books import books_of
from speedloom.wording.dates import clock
from speedloom.wording.differences import FIELDS, differences_text
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.wording.names import full_name, word
from speedloom.wording.units import Units, length_number, mass_number, number, share
from speedloom.workflows.compare import compare
from speedloom.workflows.edit import edit

UNPROCESSABLE = 422
CONFLICT = 409


@dataclass(frozen=True)
class Box:
    """One thing that can be typed: its name, label, unit, and what stands there."""

    name: str
    label: str
    unit: str
    value: str
    kind: str = "text"


@dataclass(frozen=True)
class Found:
    """A line or a session with whose it is and when."""

    athlete: str
    week: Week
    session: Session
    line: Prescription | None = None


def find(programme: Programme, ref: str) -> Found:
    """Find a line or a session by its ref.

    Raises:
        Http404: there is none of that name.
    """
    for own in programme.programmes:
        for week in own.weeks:
            for session in week.sessions:
                if session.ref == ref:
                    return Found(own.athlete, week, session)
                for line in session.prescriptions:
                    if line.ref == ref:
                        return Found(own.athlete, week, session, line)
    raise Http404(_("There is nothing of that name in this programme."))


def boxes(found: Found, *, units: Units) -> tuple[Box, ...]:
    """Give what can be typed for a line or a session, with what stands there now."""
    if found.line is None:
        return (
            Box("date", _("Date"), "", found.session.date.isoformat(), "date"),
            Box("start", _("Start"), "", clock(found.session.start), "time"),
        )
    numbers = tuple(_box(found.line, name, units) for name in numbers_of(found.line))
    return (*numbers, Box("cue", _("Cue"), "", found.line.cue))


def _box(line: Prescription, name: str, units: Units) -> Box:
    unit, value = LINE_NUMBERS[name], getattr(line, name)
    shown = {"kg": units.mass, "m": units.length, "share": "%", "s": "s"}.get(unit, "")
    label = FIELDS.get(name, word(name)).capitalize()
    return Box(name, label, shown, "" if value is None else _typed(value, unit, units))


def _typed(value: float, unit: str, units: Units) -> str:
    if unit == "kg":
        return mass_number(value, units=units)
    if unit == "m":
        return length_number(value, units=units)
    return share(value).rstrip(" %") if unit == "share" else number(value)


@needs("change_programme", change="change_programme")
def change_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Show what can be changed of a line or a session, and change it."""
    document = read_programme(request.actor, squad.key, programme.id)
    found = find(document, ref)
    shown = boxes(found, units=units_of(request.actor))
    form = _Form(request, squad, programme, document, found, shown)
    if request.method != "POST":
        return form.answer()
    return form.sent()


@dataclass(frozen=True)
class _Form:
    """One change under way; whatever is wrong, what was typed comes back."""

    request: Request
    squad: SquadCard
    card: ProgrammeCard
    document: Programme
    found: Found
    boxes: tuple[Box, ...]

    def answer(self, *, faults: Sequence[str] = (), status: int = 200) -> HttpResponse:
        typed = self.request.POST
        shown = [replace(box, value=typed.get(box.name, box.value)) for box in self.boxes]
        _book, catalogue = books_of(self.document)
        line = self.found.line
        context = {
            "squad": self.squad,
            "card": self.card,
            "found": self.found,
            "title": full_name(line, catalogue=catalogue) if line else _("Session"),
            "boxes": shown,
            "reason": typed.get("reason", ""),
            "group": "group" in typed,
            "others": len(self._same_work()) - 1 if line else 0,
            "after": typed.get("after", self.card.digest),
            "faults": faults,
        }
        part = "programme/change.html" if self.request.htmx else "programme/change_page.html"
        return render(self.request, part, context, status=status)

    def sent(self) -> HttpResponse:
        typed = self.request.POST
        if typed.get("after") != self.card.digest:
            fault = _("Somebody changed the programme meanwhile. Look at it; your numbers still stand here.")
            return self.answer(faults=[fault], status=CONFLICT)
        try:
            changes = self._changes(typed)
            made = edit(self.document, changes, reason=typed.get("reason", ""), rulebook=load_rulebook())
        except (EditError, ValueError) as error:
            return self.answer(faults=str(error).splitlines(), status=UNPROCESSABLE)
        athletes = {find(self.document, change.ref).athlete for change in changes}
        hard, others = news(self.document, made, athletes=athletes)
        if hard:
            return self.answer(faults=[*hard, _("A hard rule does not allow this; nothing was saved.")],
                               status=UNPROCESSABLE)  # fmt: skip
        return saved(self.request, self.card, (self.document, made), at=self.found, told=others)

    def _changes(self, typed: Mapping[str, str]) -> list[Change]:
        refs = self._same_work() if "group" in typed and self.found.line else [self._ref()]
        values = {
            box.name: self._value(box, typed[box.name])
            for box in self.boxes
            if typed.get(box.name, box.value).strip() != box.value.strip()
        }
        if not values:
            raise EditError(_("Nothing was changed: every number is as it was."))
        return [Change(ref, name, value) for ref in refs for name, value in values.items()]

    def _value(self, box: Box, text: str) -> float | str:
        unit = LINE_NUMBERS.get(box.name)
        if unit is None:
            return text.strip()
        bare = text.strip().replace("−", "-")
        written = bare if not bare or bare[-1].isalpha() or bare[-1] == "%" else f"{bare} {box.unit}".strip()
        try:
            return amount(written, unit=unit)
        except ValueError as error:
            message = f"{box.label}: {error}"
            raise EditError(message) from error

    def _ref(self) -> str:
        return self.found.line.ref if self.found.line else self.found.session.ref

    def _same_work(self) -> list[str]:
        """Give the lines of everybody who does the same that day, this one first."""
        mine = self.found.line
        if mine is None:
            return []
        others = [
            line.ref
            for own in self.document.programmes
            for week in own.weeks
            for session in week.sessions
            if session.date == self.found.session.date
            for line in session.prescriptions
            if (line.exercise, line.run) == (mine.exercise, mine.run) and line.ref != mine.ref
        ]
        return [mine.ref, *others]


def news(before: Programme, made: Programme, *, athletes: set[str]) -> tuple[list[str], list[str]]:
    """Give what the check finds about some athletes that it did not find before: hard findings, others."""
    rulebook, catalogue = books_of(made)
    was, now = (found_of(one, frozenset(athletes)) for one in (before, made))
    known = {_about(one) for one in was}
    new = [one for one in now if _about(one) not in known and one.weight != "advice"]
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=made)
    hard = [finding_sentence(one, book=book) for one in new if one.weight == "hard"]
    return hard, [finding_sentence(one, book=book) for one in new if one.weight != "hard"]


def _about(finding: Finding) -> tuple[object, ...]:
    return (finding.rule, finding.number, finding.athlete, finding.week, finding.session, finding.line)


def saved(
    request: Request,
    card: ProgrammeCard,
    revisions: tuple[Programme, Programme],
    *,
    at: Found,
    told: Sequence[str],
) -> HttpResponse:
    """Save a revision, say what changed and what the check says, and go back to the week.

    Args:
        request: the request.
        card: the programme as it was when the page was read.
        revisions: the document before and after.
        at: the line or session that was changed.
        told: what else the check says.
    """
    before, made = revisions
    if made is not before:
        save_programme(request.actor, card.squad, made, after=card.digest)
    _book, catalogue = books_of(made)
    text = differences_text(compare(before, made), programme=made, catalogue=catalogue)
    for line in text.strip().splitlines():
        messages.success(request, line)
    for line in told:
        messages.warning(request, line)
    where = reverse("programme", args=[card.squad, made.id])
    # The revision makes it another address: a browser does not load the same one anew for its fragment.
    back = f"{where}?athlete={at.athlete}&week={at.week.number}&revision={made.revision.number}#week"
    if not request.htmx:
        return HttpResponseRedirect(back)
    answer = HttpResponse(status=204)
    answer["HX-Redirect"] = back
    return answer


@needs(None, change="change_programme")
def lock_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Lock or unlock a whole session, or take the locks of a line away."""
    document = read_programme(request.actor, squad.key, programme.id)
    found = find(document, ref)
    if request.POST.get("after") != programme.digest:
        raise ConflictError(_("Somebody changed the programme meanwhile. Look at it and lock it again."))
    lock = "lock" in request.POST
    if found.line is None:
        changes = [Change(ref, "", lock=lock)]
    else:
        changes = [Change(ref, name, lock=lock) for name in found.line.locked]
    reason = request.POST.get("reason") or (_("locked") if lock else _("unlocked"))
    made = edit(document, changes, reason=reason, rulebook=load_rulebook())
    return saved(request, programme, (document, made), at=found, told=())
