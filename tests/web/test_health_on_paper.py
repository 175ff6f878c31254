"""What is handed out of a programme: for whom a limit holds at most, never who set it or who hurts."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from html import unescape
from io import BytesIO
from zipfile import ZipFile

import pytest

from field_entries import client, entry
from invented_squads import PROGRAMME, Squads, limit
from speedloom.store import models
from speedloom.store.athletes import add_athlete
from speedloom.store.programmes import save_programme
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Athlete, Limit
from speedloom.training.log import LogEntry
from speedloom.web.pages.programme.handed_out import KINDS
from speedloom.web.pages.session.taking import take
from speedloom.wording.cautions import FIELD, HELP, MINORS, NO_CLINICIAN, OWN_WORDS
from unit.report.pdf_reading import page_texts
from unit.report.sample import programme

SHARED = ("session", "workbook", "calendar", "table")
SET_BY = ("A. Physio", "zwaluw")
HEALTH = (*SET_BY, "no hop", "no running", "80 % of top speed", "no jumps", "pain", "Limit", "restriction")


@pytest.fixture
def papers(squads: Squads) -> dict[str, str]:
    """Hand out everything for all and for Ada, who stopped for pain; Brit has a clinician's limit."""
    document = programme(2, 4).model_copy(update={"id": "0123456789ab"})
    found = save_programme(squads.by_role["coach"], squads.ours, document).id
    for ref in ("ada", "brit"):
        add_athlete(squads.by_role["owner"], squads.ours, Athlete(ref=ref, name=ref.title()))
    none = (Limit(what="share_vmax", at_most=0.0), Limit(what="contacts", at_most=0.0))
    held = limit(said="zwaluw").model_copy(update={"limits": none})
    set_restriction(squads.by_role["assistant"], squads.ours, "ada", held)
    _stopped(squads, document.id)
    coach = client(squads.by_role["coach"])
    here = f"/squads/{squads.ours}/programmes/{found}/hand-out"
    return {
        f"{kind} {whose}": _text(coach.get(f"{here}/{kind}/?week=1{whose}").content)
        for kind in KINDS
        for whose in ("", "&athlete=ada")
    }


def _stopped(squads: Squads, programme_id: str) -> None:
    own = programme(2, 4).programmes[0]
    session = own.weeks[0].sessions[0]
    line = next(one for one in session.prescriptions if one.purpose == "work")
    about = {"athlete": own.athlete, "session": session.ref, "line": line.ref, "exercise": line.exercise}
    what = {"date": f"{session.date}", "status": "stopped", "reason": "pain", "note": "zwaluw"}
    sent = entry(1, squads.by_role["assistant"], **about, **what)
    written = LogEntry.model_validate_json(json.dumps(sent))
    taken = take(squads.by_role["assistant"], squads.ours, programme_id, (written,))
    assert not taken.refused


def _text(content: bytes) -> str:
    if content.startswith(b"%PDF"):
        return " ".join(page_texts(content))
    if content.startswith(b"PK"):
        with ZipFile(BytesIO(content)) as book:
            return "\n".join(book.read(name).decode("utf-8", "replace") for name in book.namelist())
    return content.decode()


def test_papers_for_all_say_limit_alone_and_own_ones_never_who_set_it(papers: dict[str, str]) -> None:
    for kind in SHARED:
        # The workbook's list of reasons to choose from names none of the squad.
        said = papers[f"{kind} "].replace("pain,illness,kit", "")
        assert [word for word in HEALTH if word in said] == [], kind
    assert "Ada Maarleveld LIMIT" in papers["session "]
    assert "Brit Sandoval LIMIT" in papers["session "]
    assert "no running" in papers["athlete &athlete=ada"]
    assert "no running" in papers["book &athlete=ada"]
    assert "Must be changed" in papers["book &athlete=ada"], "the book is looked at with the limit in it"
    named = {what: [name for name in SET_BY if name in said] for what, said in papers.items()}
    assert named == {what: [] for what in papers}


COACHS = (FIELD, MINORS, HELP, NO_CLINICIAN)


def test_own_page_and_paper_speak_to_the_athlete_and_a_clinician_with_an_account_is_named(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2026, 1, 12, 12, tzinfo=UTC))
    own, coach = client(squads.by_role["athlete"]), client(squads.by_role["coach"])
    mine = f"/squads/{squads.ours}/athletes/mila/mine/"
    sheet = f"/squads/{squads.ours}/programmes/{PROGRAMME}/hand-out/session/?week=1"

    def told() -> list[str]:
        papers = [_text(own.get(f"{mine}sheet/").content), _text(coach.get(sheet).content)]
        return [unescape(own.get(mine).content.decode()), *papers]

    page, paper, shared = told()
    field = f"programmes/{PROGRAMME}/sessions/2026-01-12/"
    step = unescape(own.get(f"/squads/{squads.ours}/athletes/mila/{field}").content.decode())
    theirs = unescape(coach.get(f"/squads/{squads.ours}/{field}").content.decode())
    assert MINORS in theirs
    assert NO_CLINICIAN not in theirs
    for said in (page, paper, step):
        assert [text for text in COACHS if text in said] == []
        assert OWN_WORDS[MINORS] in said
        assert OWN_WORDS[HELP] in said
        assert OWN_WORDS[NO_CLINICIAN] not in said, "the squad has a clinician with an account"
    assert MINORS in shared
    assert "No clinician is named" not in shared
    models.Membership.objects.filter(role="clinician").delete()
    page, paper, shared = told()
    assert OWN_WORDS[NO_CLINICIAN] in page
    assert OWN_WORDS[NO_CLINICIAN] in paper
    assert "No clinician is named" in shared
