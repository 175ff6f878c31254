"""Calls about programmes: read, changed, checked, explained, handed out, and what was done of them."""

from __future__ import annotations

from typing import Annotated, Literal

from django.http import HttpResponse
from django.utils.text import slugify
from ninja import Path, Query, Router

from speedloom.errors import EditError
from speedloom.handouts.papers import Order
from speedloom.planning.edited import Change
from speedloom.report.sheets.paper import PaperSize
from speedloom.store import logs, programmes
from speedloom.store.cards import ProgrammeCard, RevisionCard
from speedloom.store.permissions import require
from speedloom.store.programme_part import only
from speedloom.store.refusals import ConflictError, NotThereError
from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.pages.api.doors import Call, Key
from speedloom.web.pages.api.shapes import (
    Changed,
    ChangesSent,
    Checked,
    EntriesKept,
    EntriesSent,
    NotKept,
    WhyTold,
    give,
    give_all,
    read,
)
from speedloom.web.pages.api.squads import MOST_REVISIONS, TAKES, OneAthlete
from speedloom.web.pages.api.told import check_told, new_findings, only_soft, why_told
from speedloom.web.pages.programme.changes_saved import told
from speedloom.web.pages.programme.handed_out import KINDS
from speedloom.web.pages.programme.hard_limits import above_limits_now
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.taking import take
from speedloom.wording.books import books_of
from speedloom.wording.differences import differences_text
from speedloom.workflows.compare import compare
from speedloom.workflows.edit import edit

HERE = "/squads/{squad}/programmes/{programme}"
Kind = Literal["session", "athlete", "book", "workbook", "calendar", "table"]
OneWeek = Annotated[int | None, Query(ge=1, le=520, description="empty: every week")]

router = Router()


@router.get(
    "/squads/{squad}/programmes",
    auth=Key("see_programme"),
    response=list[ProgrammeCard],
    summary="The programmes the person may see, newest first",
)
def list_programmes(request: Call, squad: str) -> HttpResponse:
    """List programmes."""
    return give_all(programmes.programmes(request.auth, squad))


@router.get(HERE, auth=Key("see_programme"), response=Programme, summary="A programme, whole")
def one_programme(request: Call, squad: str, programme: str) -> HttpResponse:
    """Give the newest revision, cut to the athletes the person may see."""
    return give(programmes.read_programme(request.auth, squad, programme))


@router.get(
    f"{HERE}/revisions",
    auth=Key("see_programme", whole=True),
    response=list[RevisionCard],
    summary="Who saved which revision, when and why",
)
def list_revisions(request: Call, squad: str, programme: str) -> HttpResponse:
    """List revisions, newest first."""
    return give_all(programmes.revisions(request.auth, squad, programme))


@router.get(
    f"{HERE}/revisions/{{number}}",
    auth=Key("see_programme"),
    response=Programme,
    summary="One revision, whole",
)
def one_revision(
    request: Call, squad: str, programme: str, number: Annotated[int, Path(ge=1, le=MOST_REVISIONS)]
) -> HttpResponse:
    """Give one revision, cut to the athletes the person may see."""
    return give(programmes.read_programme(request.auth, squad, programme, number=number))


@router.post(
    f"{HERE}/changes",
    auth=Key("change_programme", whole=True),
    response=Changed,
    summary="Change numbers, days and locks by hand, as one revision",
    openapi_extra={TAKES: ChangesSent},
)
def change(request: Call, squad: str, programme: str) -> HttpResponse:
    """Make changes, all or none: what a hard rule does not allow is not saved."""
    sent = read(request, ChangesSent)
    card = programmes.programme_card(request.auth, squad, programme)
    if sent.after != card.digest:
        raise ConflictError(f"Expected changes after {card.digest}, got after {sent.after[:80]}.")
    before = programmes.read_programme(request.auth, squad, programme)
    changes = [Change(one.ref, one.field, one.value, one.lock) for one in sent.changes]
    made = edit(before, changes, reason=sent.reason, rulebook=load_rulebook())
    findings = only_soft(new_findings(before, made, refs={one.ref for one in changes}))
    forbidden = told(made, above_limits_now(request.auth, squad, before, made))
    if forbidden:
        raise EditError("\n".join(forbidden))
    if made is not before:
        card = programmes.save_programme(request.auth, squad, made, after=card.digest)
    _book, catalogue = books_of(made)
    text = differences_text(compare(before, made), programme=made, catalogue=catalogue)
    said = tuple(line for line in text.splitlines() if line.strip())
    return give(Changed(programme=card, changed=said, findings=findings))


@router.get(
    f"{HERE}/check",
    auth=Key("see_programme"),
    response=Checked,
    summary="What an independent look at the programme finds",
)
def check(request: Call, squad: str, programme: str, athlete: OneAthlete = None) -> HttpResponse:
    """Check the newest revision, of one athlete or of everybody the person may see."""
    document = programmes.read_programme(request.auth, squad, programme)
    return give(check_told(_of(document, athlete)))


@router.get(
    f"{HERE}/why/{{ref}}",
    auth=Key("see_programme"),
    response=list[WhyTold],
    summary="How the numbers of a line, session or week came about",
)
def why(request: Call, squad: str, programme: str, ref: str) -> HttpResponse:
    """Explain one number (`mila-2.load_kg`) or every number of a line, session or week (`mila-w6`)."""
    return give_all(why_told(programmes.read_programme(request.auth, squad, programme), ref))


@router.get(f"{HERE}/log", auth=Key("see_log"), response=Log, summary="What was done, as it was written down")
def log(request: Call, squad: str, programme: str) -> HttpResponse:
    """Give the log, cut to the athletes the person may see."""
    return give(logs.log(request.auth, squad, programme))


@router.post(
    f"{HERE}/log",
    auth=Key("write_log"),
    response=EntriesKept,
    summary="Append entries with ids of the sender's; sending again is safe",
    openapi_extra={TAKES: EntriesSent},
)
def append(request: Call, squad: str, programme: str) -> HttpResponse:
    """Append entries, each once however often it is sent."""
    entries = read(request, EntriesSent).entries
    for athlete in sorted({entry.athlete for entry in entries}):
        require(request.auth, "write_log", squad=squad, athlete=athlete)
    kept = take(request.auth, squad, programme, entries)
    return give(
        EntriesKept(
            stored=kept.stored,
            known=kept.known,
            clashing=tuple(one.id for one in kept.clashing),
            refused=tuple(NotKept(id=one.id, why=one.why) for one in kept.refused),
            asked=tuple(NotKept(id=one.id, why=one.question) for one in kept.asked),
        )
    )


@router.get(
    f"{HERE}/handouts/{{kind}}",
    auth=Key("hand_out"),
    summary="A paper or a file: PDF, workbook, calendar, table",
    openapi_extra={"responses": {"200": {"content": {"application/octet-stream": {}}}}},
)
def hand_out(
    request: Call,
    squad: str,
    programme: str,
    kind: Kind,
    athlete: OneAthlete = None,
    week: OneWeek = None,
    paper: PaperSize = "a4",
) -> HttpResponse:
    """Print or write out the newest revision."""
    document = programmes.read_programme(request.auth, squad, programme)
    _of(document, athlete)
    if week is not None and not any(one.number == week for own in document.programmes for one in own.weeks):
        raise NotThereError(f"This programme has no week {week}.")
    make, content, ending = KINDS[kind]
    order = Order(athlete=athlete, week=week, size=paper, units=units_of(request.auth))
    answer = HttpResponse(make(document, order), content_type=content)
    name = "-".join(filter(None, (kind, athlete, f"revision-{document.revision.number}")))
    answer["Content-Disposition"] = f'attachment; filename="{slugify(name)}.{ending}"'
    return answer


def _of(document: Programme, athlete: str | None) -> Programme:
    if athlete is None:
        return document
    part = only(document, {athlete})
    if not part.programmes:
        raise NotThereError("This programme has no such athlete.")
    return part
