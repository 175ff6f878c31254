"""`speedloom swap`, `add`, `remove` and `copy` as a coach types them; a locked number asks."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Ask = Callable[..., Any]
Data = dict[str, Any]


def own(path: Path) -> Data:
    """Give the weeks of the first athlete who squats."""
    athletes = json.loads(path.read_text(encoding="utf-8"))["programmes"]
    return next(one for one in athletes if squats(one))


def squats(athlete: Data) -> list[tuple[Data, Data]]:
    """List an athlete's back squats with their sessions."""
    return [
        (session, line)
        for week in athlete["weeks"]
        for session in week["sessions"]
        for line in session["prescriptions"]
        if line["exercise"] == "back_squat"
    ]


def squat(path: Path) -> tuple[Data, Data]:
    """Give the last back squat with its session."""
    return squats(own(path))[-1]


def exercises(path: Path, session: str) -> list[str]:
    return [
        line["exercise"]
        for week in own(path)["weeks"]
        for one in week["sessions"]
        if one["ref"] == session
        for line in one["prescriptions"]
    ]


def test_a_swap_says_what_went_and_what_came_and_why_tells_of_it(
    ask: Ask, planned: Path, tmp_path: Path
) -> None:
    session, line = squat(planned)
    new = tmp_path / "new.json"
    answer = ask("swap", planned, line["ref"], "front_squat", "--reason", "Her shoulder", "-o", new)
    assert answer.code == 0
    assert "Back squat removed" in answer.out
    assert "Front squat added" in answer.out
    assert "front_squat" in exercises(new, session["ref"])
    ref = f"{own(planned)['athlete']}-{own(planned)['next_ref']}"
    assert "set by the coach instead of back squat: Her shoulder." in ask("why", new, f"{ref}.exercise").out


def test_a_line_is_added_with_own_numbers_and_taken_out_again(
    ask: Ask, planned: Path, tmp_path: Path
) -> None:
    session, _ = squat(planned)
    added, gone = tmp_path / "added.json", tmp_path / "gone.json"
    typed = ("--number", "sets=1", "--number", "reps=4", "--minutes", "2", "--cue", "Relay")
    more = ("--method", "technique", "--reason", "Relay", "-o", added)
    assert ask("add", planned, session["ref"], "own_line", *typed, *more).code == 0
    assert exercises(added, session["ref"])[-1] == "own_line"
    ref = f"{own(planned)['athlete']}-{own(planned)['next_ref']}"
    assert ask("remove", added, ref, "--reason", "Rain", "-o", gone).code == 0
    assert exercises(gone, session["ref"]) == exercises(planned, session["ref"])
    assert own(gone)["retired"] == [ref]


def test_what_does_not_fit_the_slot_is_not_written(ask: Ask, planned: Path, tmp_path: Path) -> None:
    session, _ = squat(planned)
    new = tmp_path / "new.json"
    typed = ("--number", "sets=1", "--number", "reps=1", "--minutes", "90", "--cue", "Talk")
    answer = ask("add", planned, session["ref"], "own_line", *typed, "--reason", "Talk", "-o", new)
    assert answer.code == 1
    assert "slot_minutes" in answer.err
    assert not new.exists()


def test_a_week_is_copied(ask: Ask, planned: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.json"
    athlete, last = own(planned)["athlete"], own(planned)["weeks"][-1]["number"]
    typed = ("--week", last, "--into", last - 1, "--reason", "Good week", "-o", new)
    answer = ask("copy", planned, athlete, *typed)
    assert answer.code == 0, answer.err
    one, other = (own(new)["weeks"][at]["sessions"] for at in (-1, -2))
    named = [
        [[line["exercise"] for line in session["prescriptions"]] for session in side] for side in (one, other)
    ]
    assert named[0] == named[1]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("--week", "2"), "Expected --week and --into, or --to and --from."),
        (("--week", "2", "--into", "99"), "Expected a week from 1 to"),
        (("--to", "nobody", "--from", "2027-01-01"), "or a brief with this athlete in it"),
        (("--to", "nobody", "--from", "soon"), "--from: expected a date such as 2026-02-16, got soon."),
    ],
)
def test_a_copy_that_cannot_be_is_told(
    ask: Ask, planned: Path, tmp_path: Path, typed: tuple[str, ...], said: str
) -> None:
    new = tmp_path / "new.json"
    answer = ask("copy", planned, own(planned)["athlete"], *typed, "--reason", "x", "-o", new)
    assert answer.code == 2
    assert said in answer.err
    assert not new.exists()


def test_a_number_that_is_locked_asks_first(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    held, new = tmp_path / "held.json", tmp_path / "new.json"
    where = f"{line['ref']}.sets"
    fewer = str(line["sets"] + 1)
    assert ask("lock", planned, where, "--reason", "As it is", "-o", held).code == 0
    answer = ask("edit", held, where, fewer, "--reason", "More", "-o", new)
    assert answer.code == 2
    assert f"{where}: locked at {line['sets']}" in answer.err
    assert "--unlock" in answer.err
    told = ask("edit", held, where, fewer, "--reason", "More", "--unlock", "-o", new)
    assert told.code in {0, 1}  # a hard rule may still refuse it
    assert "locked at" not in told.err
