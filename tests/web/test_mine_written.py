"""What an athlete writes of a session keeps to their stops, and to the day it was trained on."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest

from field_entries import client, entry, stored
from field_entries import here as field
from invented_squads import PROGRAMME, Squads
from web.test_mine import MONDAY, as_, here, on, text

SECOND = MONDAY + timedelta(days=7)
SLED = "mila-203"
WHERE = f"programmes/{PROGRAMME}/mila-200/"
ONE_TAP = 'value="all"'


@pytest.fixture(autouse=True)
def _second_monday(monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, SECOND, hour=19)


def page(squads: Squads) -> str:
    return text(as_(squads).get(here(squads, WHERE)))


def all_done(squads: Squads) -> str:
    return text(as_(squads).post(here(squads, WHERE), {"do": "all", "nonce": "q"}, follow=True))


def test_after_own_pain_the_tap_writes_nothing_else_as_done(squads: Squads) -> None:
    me = squads.by_role["athlete"]
    door = f"/squads/{squads.ours}/athletes/mila/programmes/{PROGRAMME}/written/"
    stop = {"entries": [entry(1, me, status="stopped", reason="pain")]}
    assert as_(squads).post(door, stop, content_type="application/json").status_code == 200
    shown = page(squads)
    assert "stopped for pain in Sled" in shown
    assert ONE_TAP not in shown
    assert "stopped for pain in Sled" in all_done(squads)
    assert [(one.line, one.status) for one in stored(squads)] == [(SLED, "stopped")]


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
