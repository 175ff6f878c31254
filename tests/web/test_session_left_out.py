"""Without a script: who the stop rule or pain has stopped is not done as written in one tap."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time

import pytest
from django.utils.timezone import localdate

from field_entries import SLED, client, entry, here, sent, stored
from invented_squads import Squads
from living_site import LivingSite
from speedloom.training.log import LogEntry
from speedloom.wording.line_words import stop_time

OTHER = "stopped for pain in "


def page_of(squads: Squads) -> str:
    return client(squads.by_role["coach"]).get(here(squads)).content.decode()


def groups(page: str) -> list[str]:
    return re.findall(r'value="group:([^"]*)"', page)


def row(page: str, line: str) -> str:
    return page.partition(f'id="row-{line}"')[2].partition('class="boxes"')[0]


def lines_of_mila(page: str) -> list[str]:
    return re.findall(r'id="row-(mila-\d+)"', page)


def posted(squads: Squads, what: str) -> tuple[LogEntry, ...]:
    """Press a button of the session page, and give what came of it."""
    before = len(stored(squads))
    form = {"do": what, "nonce": what, "on": here(squads)[-10:]}
    assert client(squads.by_role["coach"]).post(here(squads), form).status_code == 302
    return stored(squads)[before:]


def test_pain_in_one_exercise_keeps_the_others_out_until_they_are_written_by_hand(squads: Squads) -> None:
    who = squads.by_role["coach"]
    other = next(line for line in lines_of_mila(page_of(squads)) if line != SLED)
    assert any(other in group.split() for group in groups(page_of(squads)))
    sent(client(who), squads, [entry(1, who, status="stopped", reason="pain")])
    page = page_of(squads)
    assert OTHER in row(page, other)
    assert OTHER not in row(page, SLED)
    assert not any(other in group.split() for group in groups(page))
    assert posted(squads, f"group:{other}") == ()
    (by_hand,) = posted(squads, f"all:{other}")
    assert by_hand.line == other


def test_who_may_not_see_health_sees_no_mark_of_pain(squads: Squads) -> None:
    who = squads.by_role["coach"]
    other = next(line for line in lines_of_mila(page_of(squads)) if line != SLED)
    sent(client(who), squads, [entry(1, who, status="stopped", reason="pain")])
    assert OTHER in row(page_of(squads), other)
    answer = client(squads.by_role["viewer"]).get(here(squads))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Mila" in row(page, other)
    assert OTHER not in page


def test_the_rest_of_a_line_is_not_done_once_its_rule_says_stop(
    lived: LivingSite, monkeypatch: pytest.MonkeyPatch
) -> None:
    day, line = next(
        (session.date.isoformat(), line)
        for _athlete, session in lived.document().sessions()
        for line in session.prescriptions
        if session.date > localdate() and line.reps > 2 and stop_time(line)
    )
    evening = datetime.combine(date.fromisoformat(day), time(20), tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: evening)
    slow = f"{float(stop_time(line)) + 0.1:.2f}"
    where, coach = f"{lived.here}sessions/{day}/?on={day}", lived.people["coach"]

    def rest() -> str:
        page = lived.page(where)
        return re.findall(rf'name="box:{line.ref}\.1\.3" value="([^"]*)"', page)[0]

    def press(what: str, **typed: str) -> None:
        form = {"do": what, "nonce": f"{what}{typed}", "on": day, **typed}
        assert coach.post(where, form).status_code == 302

    press("boxes", **{f"box:{line.ref}.1.1": slow, f"box:{line.ref}.1.2": slow})
    press(f"all:{line.ref}")
    press(f"group:{line.ref}")
    assert rest() == "", "two slow runs end the line"
    press("boxes", **{f"box:{line.ref}.1.2": "x", f"was:{line.ref}.1.2": slow})
    press(f"all:{line.ref}", again="1")
    assert rest() == "x", "one slow run stops nobody"


def test_kit_is_no_reason_to_be_absent(squads: Squads) -> None:
    form = {"do": "else", "what": "absent", "line": SLED, "nonce": "a", "on": here(squads)[-10:]}
    coach = client(squads.by_role["coach"])
    for number, (reason, kept) in enumerate({"kit": None, "illness": "illness"}.items()):
        assert coach.post(here(squads), form | {"reason": reason, "nonce": str(number)}).status_code == 302
        assert stored(squads)[-1].status == "absent"
        assert stored(squads)[-1].reason == kept
