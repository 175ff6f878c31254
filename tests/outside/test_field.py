"""What the field leaves behind: entries that are only added, a choice that replaces, a stop that limits.

DATA.md: "A correction is a new entry with `replaces` ... both are kept"; `id` is made where it is typed, "so
sending twice stores once"; a swap leaves the line out with its reason, and what was done is an extra with
`session` and `line` null. DESIGN.md 1: anyone on the field may stop an athlete; it holds until it is lifted.
"""

from __future__ import annotations

import json
import re
from typing import Any

from field_entries import SLED, client, entry, here, run, sent, stored
from invented_squads import Squads
from outside_log import standing

Data = dict[str, Any]
BUTTON = re.compile(r'<button[^>]*name="entry"[^>]*value="([^"]+)"')
FORM = re.compile(r'<form class="card differs"(?:(?!</form>).)*</form>', re.DOTALL)
HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)"')


def kept(squads: Squads) -> list[Data]:
    """List what is stored, as it stands in a log's file."""
    return [json.loads(one.model_dump_json()) for one in stored(squads)]


def test_a_choice_between_two_values_replaces_one_and_keeps_both(squads: Squads) -> None:
    coach = client(squads.by_role["coach"])
    two = [
        entry(1, squads.by_role["coach"], results=[run(1, 2.31)]),
        entry(2, squads.by_role["coach"], results=[run(1, 2.41)], at="2026-01-19T18:31:00+01:00"),
    ]
    sent(coach, squads, two)
    page = coach.get(here(squads)).content.decode()
    asked = FORM.search(page)
    assert asked
    assert set(BUTTON.findall(asked[0])) == {one["id"] for one in two}
    answer = coach.post(here(squads), {**dict(HIDDEN.findall(asked[0])), "entry": two[0]["id"]})
    assert answer.status_code in {200, 302}
    entries = kept(squads)
    assert [one["id"] for one in entries[:2]] == [one["id"] for one in two]
    (new,) = entries[2:]
    assert new["replaces"] == two[1]["id"]
    assert new["results"][0]["time_s"] == 2.31
    times = {result["time_s"] for one in standing(entries) for result in one["results"]}
    assert times == {2.31}
    assert not BUTTON.findall(coach.get(here(squads)).content.decode())


def test_what_is_sent_twice_stands_once(squads: Squads) -> None:
    coach, one = client(squads.by_role["coach"]), entry(1, squads.by_role["coach"], results=[run(1, 2.31)])
    sent(coach, squads, [one])
    sent(coach, squads, [one, entry(2, squads.by_role["coach"], results=[run(2, 2.35)])])
    assert [each["id"] for each in kept(squads)] == [one["id"], entry(2, squads.by_role["coach"])["id"]]


def test_a_swap_is_two_entries_and_counts_as_what_was_done(squads: Squads) -> None:
    coach = client(squads.by_role["coach"])
    left = entry(1, squads.by_role["coach"], status="skipped", reason="kit")
    instead = {
        "session": None,
        "line": None,
        "exercise": "acceleration_run",
        "status": "extra",
        "reason": "kit",
    }
    done = entry(2, squads.by_role["coach"], results=[{**run(1, 1.95), "load_kg": None}], **instead)
    sent(coach, squads, [left, done])
    line, extra = kept(squads)
    assert (line["line"], line["status"], line["reason"], line["results"]) == (SLED, "skipped", "kit", [])
    assert (extra["line"], extra["session"], extra["status"]) == (None, None, "extra")
    assert extra["results"][0]["distance_m"] == 10


def test_a_stop_for_pain_limits_at_once_and_any_other_reason_does_not(squads: Squads) -> None:
    helper, coach = client(squads.by_role["assistant"]), client(squads.by_role["coach"])
    page = f"/squads/{squads.ours}/restrictions/"
    before = coach.get(page).content.decode().count("In force")
    stop = {"status": "stopped", "results": []}
    sent(helper, squads, [entry(1, squads.by_role["assistant"], reason="time", **stop)])
    quiet = coach.get(page).content.decode()
    sent(
        helper,
        squads,
        [entry(2, squads.by_role["assistant"], reason="pain", **stop, at="2026-01-19T18:40:00+01:00")],
    )
    loud = coach.get(page).content.decode()
    assert before <= 1
    assert "No Sled" not in quiet
    assert "No Sled" in loud
    assert "until it is lifted" in loud
