"""What an athlete writes of a session keeps to their limits and stops, and to the day it was trained on."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from field_entries import client, entry, stored
from field_entries import here as field
from invented_squads import PROGRAMME, Squads
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Limit, Restriction
from web.test_mine import MONDAY, as_, here, on, text

SECOND = MONDAY + timedelta(days=7)
SLED = "mila-203"
WHERE = f"programmes/{PROGRAMME}/mila-200/"
ONE_TAP = 'value="all"'
DOSES = ("37.5 kg", "3.48 s")


@pytest.fixture(autouse=True)
def _second_monday(monkeypatch: pytest.MonkeyPatch) -> None:
    on(monkeypatch, SECOND, hour=19)


def limited(squads: Squads, one: Limit) -> None:
    said = {"set_by": "Physio Ann", "set_as": "clinician", "from": date(2026, 1, 1)}
    new = Restriction.model_validate({"ref": "rest", "limits": (one,), **said})
    set_restriction(squads.by_role["clinician"], squads.ours, "mila", new)


def page(squads: Squads) -> str:
    return text(as_(squads).get(here(squads, WHERE)))


def all_done(squads: Squads) -> str:
    return text(as_(squads).post(here(squads, WHERE), {"do": "all", "nonce": "q"}, follow=True))


def test_no_training_leaves_no_dose_and_no_tap_and_the_server_writes_nothing(squads: Squads) -> None:
    before = page(squads)
    assert ONE_TAP in before
    doses = [dose for dose in DOSES if dose in before]
    assert doses
    limited(squads, Limit(what="minutes", at_most=0))
    after = page(squads)
    assert "Not as written. Limit: no training" in after
    assert ONE_TAP not in after
    assert not [dose for dose in doses if dose in after]
    assert "Not written as done: " in all_done(squads)
    assert stored(squads) == ()


def test_a_limit_of_one_exercise_marks_its_line_and_leaves_it_out_of_the_tap(squads: Squads) -> None:
    limited(squads, Limit(what="sets", at_most=0, exercise="sled_sprint"))
    shown = page(squads)
    assert shown.count("Not as written. Limit: ") == 1
    assert ONE_TAP in shown
    assert "Mila, Sled sprint (limit: no Sled sprint)" in all_done(squads)
    assert {one.line for one in stored(squads)} == {"mila-202", "mila-204"}


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
