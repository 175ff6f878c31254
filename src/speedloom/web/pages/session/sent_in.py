"""Files sent in: filled workbooks, tables, and what a phone had kept; looked at before they are saved."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.core.signing import Signer
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from speedloom.exchange.documents import read_log
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.filled_weeks import Writing, read_filled
from speedloom.exchange.log_file import appended, check_log
from speedloom.exchange.log_table import read_log_csv
from speedloom.exchange.zone import zone_of
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.logs import log as stored_log
from speedloom.store.programmes import read_programme
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Programme
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.box_text import said_in_box
from speedloom.web.pages.session.door import read_entries
from speedloom.web.pages.session.saying import hand
from speedloom.web.pages.session.taking import Asked, Why, asked_about, take
from speedloom.wording.books import books_of
from speedloom.wording.dates import day_month
from speedloom.wording.names import athlete_name, exercise_name
from speedloom.wording.units import Units
from speedloom.workflows.log_questions import with_marks

UNUSABLE = 422
MOST, MOST_SHOWN = 20_000, 400
"""Entries of one file, and those of them that are written out [count]."""
ENDINGS = (".xlsx", ".ods", ".csv", ".json")


@dataclass(frozen=True)
class EntryShown:
    """One entry of a file, in a line."""

    day: str
    athlete: str
    what: str
    results: str
    by: str


@dataclass(frozen=True)
class Look:
    """A file that was looked at: what is new in it, what would be asked, and what is wrong."""

    entries: tuple[LogEntry, ...] = ()
    shown: tuple[EntryShown, ...] = ()
    asked: tuple[Asked, ...] = ()
    known: int = 0
    faults: tuple[str, ...] = ()
    seal: str = ""
    """What shows that the text which comes back is the one that was looked at."""

    @property
    def text(self) -> str:
        """The entries as they are sent once more to be saved."""
        return _text(self.entries)


def _text(entries: Iterable[LogEntry]) -> str:
    return "[" + ",".join(entry.model_dump_json() for entry in entries) + "]"


def _seal(request: Request, squad: str, programme: str) -> Signer:
    """Give what signs a text that this person looked at for this programme."""
    return Signer(salt=f"sent-in {request.actor.person} {squad} {programme}")


@needs("write_log", change="write_log")
def sent_in_page(request: Request, squad: SquadCard, programme: ProgrammeCard, date: str) -> HttpResponse:
    """Take a file: first it is looked at, then it is saved."""
    context: dict[str, object] = {"squad": squad, "card": programme, "date": date}
    if request.method != "POST":
        return render(request, "session/sent_in.html", context)
    if "entries" in request.POST:
        return _saved(request, squad, programme, date)
    upload = request.FILES.get("file")
    look = (
        _looked(request, squad, programme, upload)
        if isinstance(upload, UploadedFile)
        else Look(faults=(_("Choose a file first."),))
    )
    status = UNUSABLE if look.faults else 200
    return render(request, "session/sent_in.html", context | {"look": look}, status=status)


def _saved(request: Request, squad: SquadCard, programme: ProgrammeCard, date: str) -> HttpResponse:
    entries: list[LogEntry] = []
    changed = _("What was looked at came back changed; send the file in again.")
    text = request.POST["entries"]
    known = _seal(request, squad.key, programme.id).signature(text)
    if not constant_time_compare(request.POST.get("seal", ""), known):
        messages.error(request, changed)
        return redirect("session_sent_in", squad.key, programme.id, date)
    try:
        entries, wrong = read_entries(b'{"entries":%s}' % text.encode(), most=MOST)
    except ValueError:
        wrong = [Why("", changed)]
    if wrong:
        messages.error(request, changed)
        return redirect("session_sent_in", squad.key, programme.id, date)
    taken = take(request.actor, squad.key, programme.id, entries, own_hand=False)
    kept = len(taken.stored)
    messages.success(request, ngettext("%d entry saved.", "%d entries saved.", kept) % kept)
    for why in (*taken.refused, *taken.clashing):
        messages.error(request, why.why)
    return redirect("session", squad.key, programme.id, date)


def _looked(request: Request, squad: SquadCard, programme: ProgrammeCard, upload: UploadedFile) -> Look:
    login, document = request.actor.login, read_programme(request.actor, squad.key, programme.id)
    units = units_of(request.actor)
    there = stored_log(request.actor, squad.key, programme.id)
    name = Path(upload.name or "file").name
    try:
        draft, own_ids = _read(request, document, upload)
        whole = appended(there, draft, file=name, own_ids=own_ids)
        check_log(whole, document, file=name)
    except UnusableFileError as error:
        return Look(faults=tuple(_said(fault, name) for fault in error.faults))
    old = {entry.id for entry in there.entries}
    new = whole.model_copy(update={"entries": tuple(entry for entry in whole.entries if entry.id not in old)})
    rulebook, _catalogue = books_of(document)
    marked = with_marks(new, document, rulebook=rulebook, more_to_come=True).entries
    return Look(
        entries=new.entries,
        shown=tuple(_shown(document, entry, login=login, units=units) for entry in new.entries[:MOST_SHOWN]),
        seal=_seal(request, squad.key, document.id).signature(_text(new.entries)),
        asked=asked_about(document, marked, rulebook=rulebook, units=units),
        known=len(draft.entries) - len(new.entries),
    )


def _read(request: Request, document: Programme, upload: UploadedFile) -> tuple[Log, frozenset[str]]:
    ending = Path(upload.name or "").suffix.lower()
    if ending not in ENDINGS:
        expected = "a filled workbook (XLSX, ODS), a table (CSV) or a log (JSON)"
        raise UnusableFileError([Fault(upload.name or "file", None, "", ending or "no ending", expected, "")])
    now = timezone.now().astimezone(zone_of(document))
    writing = Writing(by=request.actor.login, at=now)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"filled{ending}"
        path.write_bytes(upload.read())
        if ending == ".csv":
            return read_log_csv(path, document, writing=writing)
        if ending == ".json":
            draft = read_log(path)
            return draft, frozenset(entry.id for entry in draft.entries)
        return read_filled(path, document, writing=writing), frozenset()


def _said(fault: Fault, name: str) -> str:
    """Say a fault by the name of the file as it was sent."""
    _path, bracket, sheet = fault.file.partition(" [")
    return str(
        Fault(f"{name}{bracket}{sheet}", fault.row, fault.column, fault.what_came, fault.expected, fault.todo)
    )


def _shown(programme: Programme, entry: LogEntry, *, login: str, units: Units) -> EntryShown:
    _book, catalogue = books_of(programme)
    whole = (
        f"effort {entry.effort:g}" if entry.effort is not None else "",
        f"{entry.minutes:g} min" if entry.minutes is not None else "",
    )
    results = [
        said_in_box(
            one, timed=one.reps is None, load_kg=None if one.reps is None else one.load_kg, units=units
        )
        for one in entry.results
    ]
    status = "" if entry.status == "done" else f"{entry.status}{f' ({entry.reason})' if entry.reason else ''}"
    return EntryShown(
        day=day_month(entry.date),
        athlete=athlete_name(programme, entry.athlete),
        what=exercise_name(entry.exercise, catalogue=catalogue) if entry.exercise else _("whole session"),
        results=" · ".join(filter(None, (status, "  ".join(results), *whole, entry.note))),
        by=hand(entry.by, login),
    )
