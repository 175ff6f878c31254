"""An athlete who stopped everything reads who lifts it; what they wrote down they can put right."""

from __future__ import annotations

from datetime import timedelta

import pytest

from invented_squads import PROGRAMME, Squads
from speedloom.store.logs import log
from speedloom.store.restrictions import lift_restriction, restrictions
from web.test_mine import MONDAY, as_, here, mine, on, text


def test_when_all_is_stopped_the_page_says_who_lifts_it_and_asks_for_no_dose(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(monkeypatch, MONDAY)
    client = as_(squads)
    assert "20 kg" in mine(squads)
    client.post(here(squads, "stop/"), {"what": "all"})
    said = mine(squads)
    top = said.partition("What I may not do now")[0]
    assert "You train nothing until any coach or a clinician lifts it." in top
    assert "No training" in said
    for dose in ("20 kg", "3.48 s", "Train it step by step", "My targets", "Ask your coach before you do it"):
        assert dose not in said.partition("My results")[0], dose
    assert "Not now: everything is stopped for you." in said
    (card,) = restrictions(squads.by_role["coach"], squads.ours)
    lift_restriction(squads.by_role["coach"], squads.ours, "mila", card.id, reason="seen")
    assert "20 kg" in mine(squads)
    assert "You train nothing" not in mine(squads)


def test_what_is_written_of_a_session_to_come_can_be_put_right(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    today = on(monkeypatch, MONDAY + timedelta(days=6))
    client = as_(squads)
    field = f"/squads/{squads.ours}/athletes/mila/programmes/{PROGRAMME}/sessions/2026-01-19/"
    sent = {"on": f"{today}", "do": "boxes", "box:mila-203.1.1": "3,51"}
    assert client.post(f"{field}?on={today}", sent).status_code == 302
    where = here(squads, f"programmes/{PROGRAMME}/mila-200/")
    assert where in text(client.get(here(squads)))
    page = text(client.get(where))
    assert 'value="3.51"' in page, "who wrote it can correct it"
    client.post(where, {"box:mila-203.1.1": "3,61", "was:mila-203.1.1": "3.51", "box:mila-203.1.2": "3,62"})
    entries = log(squads.by_role["coach"], squads.ours, PROGRAMME).entries
    assert [one.date for one in entries] == [today] * len(entries), "of the day on which it was trained"
    assert 'value="3.61"' in text(client.get(where))
