"""Who is not cleared has sprint work marked wherever a limit is: field, Today, programme."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime

import pytest

from field_entries import client
from invented_squads import PROGRAMME, Squads
from speedloom.store import athletes
from speedloom.store.cards import Role
from speedloom.store.logs import log
from speedloom.store.programmes import read_programme
from speedloom.training.athlete import Screening

NOW = datetime(2026, 1, 12, 12, tzinfo=UTC)
SAID = "no sprint; no resisted sprint"


@pytest.fixture
def home(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOW)
    return f"/squads/{squads.ours}/"


def answered(squads: Squads, *, cleared: bool) -> None:
    answers = Screening(on=NOW.date(), pain=False, cleared=cleared)
    athletes.record_screening(squads.by_role["clinician"], squads.ours, "mila", answers)


def read(squads: Squads, where: str, role: Role = "coach") -> str:
    answer = client(squads.by_role[role]).get(where)
    assert answer.status_code == 200, where
    return re.sub(r"\s+", " ", answer.content.decode())


def session(squads: Squads) -> tuple[str, str, str]:
    """Give where mila's next session with a sled is, the line of the sled and one that is no sprint."""
    document = read_programme(squads.keeper, squads.ours, PROGRAMME)
    for own, each in document.sessions():
        lines = {line.method: line.ref for line in each.prescriptions if line.purpose == "work"}
        if own == "mila" and each.date >= NOW.date() and "resisted_sprint" in lines:
            other = next(
                ref for method, ref in lines.items() if method not in {"unloaded_sprint", "resisted_sprint"}
            )
            return f"programmes/{PROGRAMME}/sessions/{each.date}/", lines["resisted_sprint"], other
    raise LookupError


def test_the_field_marks_sprint_work_and_nothing_else_and_hears_of_it(squads: Squads, home: str) -> None:
    where, sled, other = session(squads)
    assert SAID not in read(squads, f"{home}{where}")
    assistant = client(squads.by_role["assistant"])
    before = assistant.get(f"{home}{where}limits/")
    answered(squads, cleared=False)
    heard = assistant.get(f"{home}{where}limits/", headers={"If-None-Match": before.headers["ETag"]})
    rows = json.loads(heard.content)["rows"]
    assert rows[sled] == f"Not as written. Limit: {SAID}"
    assert other not in rows
    assert SAID in read(squads, f"{home}{where}")
    assert SAID not in read(squads, f"{home}{where}", "viewer")
    answered(squads, cleared=True)
    assert SAID not in read(squads, f"{home}{where}")


def test_one_tap_for_all_leaves_the_sprints_out(squads: Squads, home: str) -> None:
    where, sled, _other = session(squads)
    answered(squads, cleared=False)
    client(squads.by_role["coach"]).post(f"{home}{where}", {"do": f"group:{sled}", "on": str(NOW.date())})
    written = log(squads.keeper, squads.ours, PROGRAMME).entries
    assert sled not in {entry.line for entry in written}


def test_today_and_the_programme_say_whose_sprints_are_ahead(squads: Squads, home: str) -> None:
    ahead = "goes above a limit that holds now: Mila."
    assert ahead not in read(squads, f"{home}found/")
    answered(squads, cleared=False)
    assert ahead in read(squads, f"{home}found/")
    assert "No sprint work: not cleared" in read(squads, "/")
    assert "No sprint work: not cleared" not in read(squads, "/", "viewer")
    assert "the questions before hard work" in read(
        squads, f"{home}programmes/{PROGRAMME}/check/?athlete=mila"
    )
