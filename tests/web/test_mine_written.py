"""What an athlete writes of a session is of the day it was trained on."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest

from field_entries import client, stored
from field_entries import here as field
from invented_squads import PROGRAMME, Squads
from web.test_mine import MONDAY, as_, here, on, text

SECOND = MONDAY + timedelta(days=7)
SLED = "mila-203"
WHERE = f"programmes/{PROGRAMME}/mila-200/"


@pytest.fixture(autouse=True)
def _second_monday(monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, SECOND, hour=19)


def page(squads: Squads) -> str:
    return text(as_(squads).get(here(squads, WHERE)))


def test_a_swap_trained_on_another_day_is_seen_and_its_times_go_into_it(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    today = on(monkeypatch, SECOND + timedelta(days=2), hour=19)
    coach = client(squads.by_role["coach"])
    where = field(squads, f"sessions/{SECOND}/?on={today}")
    to = re.search(
        r'value="(swap:[^"]+)"', coach.get(where).content.decode().partition(f'id="row-{SLED}"')[2]
    )
    assert to
    form = {"do": "else", "line": SLED, "what": to[1], "reason": "kit", "nonce": "s"}
    assert coach.post(where, form).status_code == 302
    swap = stored(squads)[-1]
    assert ", as you choose" in page(squads)
    as_(squads).post(here(squads, WHERE), {"do": "typed", "nonce": "b", f"box:{SLED}.1.1": "3.40"})
    last = stored(squads)[-1]
    assert (last.replaces, last.exercise, last.date) == (swap.id, swap.exercise, today)
    assert not [one for one in stored(squads) if one.line == SLED and one.status == "done"]
