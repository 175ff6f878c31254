"""Every number of every kind of line changed by hand: it stands, and only what follows from it moves.

The issue: "`edit` and `lock` of any number, session or day".
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from briefs import EXAMPLES, planned
from edited import change, differing, lines, node, numbers, proposed, sessions, unsound, weeks
from replanned import whole
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.training.document import canonical
from speedloom.training.programme import Programme

Data = dict[str, Any]
NAMES = ("short_block", "few_tests", "youth_14", "track_sprinter", "hall_30_m")
each_example = pytest.mark.parametrize("path", [EXAMPLES / f"{name}.toml" for name in NAMES], ids=NAMES)
FOLLOWS = {
    "sets": {"minutes", "contacts", "rest_s"},
    "reps": {"minutes", "contacts", "rest_reps_s", "load_kg", "share_1rm"},
    "distance_m": {"minutes", "rest_reps_s", "expect", "decrement", "load_kg"},
    "run_in_m": {"minutes", "rest_reps_s", "expect"},
    "load_kg": {"decrement", "expect"},
    "share_1rm": {"load_kg"},
    "rir": {"load_kg", "share_1rm", "stop_rule"},
    "effort": {"expect", "rest_reps_s", "minutes"},
    "rest_reps_s": {"minutes", "rest_s"},
    "rest_s": {"minutes"},
}
"""What may follow from a number, in a coach's eyes; from the others nothing does."""
OTHER = {
    "load_kg": 2.5,
    "distance_m": 5,
    "run_in_m": 5,
    "rest_reps_s": 60,
    "rest_s": 45,
    "share_1rm": -0.02,
    "effort": -0.03,
}


def one_of_each_kind(programme: Programme) -> list[Data]:
    """Give the first line of work of every method, run, exercise and set of numbers."""
    found: dict[object, Data] = {}
    for line in lines(whole(programme)).values():
        kind = (line["method"], line["run"], line["exercise"], *sorted(line["basis"]))
        if line["purpose"] == "work":
            found.setdefault(kind, line)
    return list(found.values())


def other(field: str, value: float) -> float:
    return round(value + OTHER.get(field, 1), 3)


def plans_of(kinds: list[Data], *, each: bool) -> list[dict[str, str]]:
    """Say which number of which line is changed in one revision: each field in turn, or all kinds mixed."""
    fields = {line["ref"]: [one for one in LINE_NUMBERS if changeable(line, one)] for line in kinds}
    if each:
        found = [{ref: field for ref, own in fields.items() if field in own} for field in LINE_NUMBERS]
        return [one for one in found if one]
    return [
        {ref: own[(at + turn) % len(own)] for at, (ref, own) in enumerate(fields.items())} for turn in (0, 1)
    ]


def changeable(line: Data, field: str) -> bool:
    top = line["reps_to"] if field == "reps" else None
    return line[field] is not None and (top is None or line[field] < top)


@each_example
def test_every_number_of_every_kind_of_line_can_be_changed(path: Path) -> None:
    old = planned(path)
    was = whole(old)
    before, known = lines(was), unsound(old)
    for plan in plans_of(one_of_each_kind(old), each=path.stem == "short_block"):
        typed = {ref: (field, other(field, before[ref][field])) for ref, field in plan.items()}
        new = change(old, *((f"{ref}.{one}", value) for ref, (one, value) in typed.items()), reason="By eye")
        assert set(unsound(new)) - set(known) == set()
        assert canonical(Programme.model_validate_json(canonical(new))) == canonical(new)
        now = whole(new)
        after = lines(now)
        assert_only_what_follows(was, now, typed)
        for ref, (field, value) in typed.items():
            told = node(new, ref, field)
            assert (told["by"], told["value"], told["reason"]) == ("coach", value, "By eye")
            assert proposed(new, ref, field) == would_stand(old, ref, field)
            assert field in after[ref]["locked"]


def would_stand(programme: Programme, ref: str, field: str) -> Data:
    """Give the node of what stands there by formula: of a count that was chosen, what it was chosen from."""
    known = node(programme, ref, field)
    return proposed(programme, ref, field) if known["by"] == "solver.count" else known


def assert_only_what_follows(was: Data, now: Data, typed: dict[str, tuple[str, float]]) -> None:
    """Look that nothing moved but the number, what follows, its session's minutes and its week's sums."""
    before, after = lines(was), lines(now)
    assert list(before) == list(after)
    for ref, line in before.items():
        moved = differing(line, after[ref])
        if ref in typed:
            field, value = typed[ref]
            assert after[ref][field] == value
            assert moved - {field} <= FOLLOWS.get(field, set()), (ref, line["method"], moved)
        else:
            assert after[ref] == line
    touched = {
        ref
        for ref, session in sessions(was).items()
        if any(line["ref"] in typed for line in session["prescriptions"])
    }
    for ref, session in sessions(was).items():
        assert differing(session, sessions(now)[ref]) <= ({"minutes"} if ref in touched else set())
    for old, new in zip(weeks(was), weeks(now), strict=True):
        here = touched & {session["ref"] for session in old["sessions"]}
        assert differing(old, new) <= ({"volumes"} if here else set())
        assert {name: one["wanted"] for name, one in old["volumes"].items()} == {
            name: one["wanted"] for name, one in new["volumes"].items()
        }


@each_example
def test_what_must_follow_does(path: Path) -> None:
    old = planned(path)
    was = whole(old)
    run = next(line for line in one_of_each_kind(old) if line["run"] == "acceleration")
    jump = next(line for line in one_of_each_kind(old) if line["method"] == "plyometric")
    new = whole(
        change(old, (f"{run['ref']}.reps", run["reps"] + 2), (f"{jump['ref']}.sets", jump["sets"] + 1))
    )
    now = lines(new)
    assert now[run["ref"]]["minutes"] > run["minutes"]
    assert now[jump["ref"]]["contacts"] * jump["sets"] == jump["contacts"] * (jump["sets"] + 1)
    for line in (run, jump):
        of = next(
            ref
            for ref, one in sessions(was).items()
            if line["ref"] in {x["ref"] for x in one["prescriptions"]}
        )
        more = sum(one["minutes"] for one in sessions(new)[of]["prescriptions"]) - sum(
            one["minutes"] for one in sessions(was)[of]["prescriptions"]
        )
        assert sessions(new)[of]["minutes"] - sessions(was)[of]["minutes"] == pytest.approx(more)
    metres = run["sets"] * run["reps"] * run["distance_m"]
    more_metres = 2 * run["sets"] * run["distance_m"]
    weeks_of = [(a, b) for a, b in zip(weeks(was), weeks(new), strict=True) if a != b]
    sums = [
        b["volumes"]["acceleration"]["planned"] - a["volumes"]["acceleration"]["planned"] for a, b in weeks_of
    ]
    assert metres > 0
    assert sum(sums) == pytest.approx(more_metres)


def test_a_heavier_sled_slows_more_and_takes_longer() -> None:
    old = planned(EXAMPLES / "short_block.toml")
    sled = next(
        line for line in one_of_each_kind(old) if line["method"] == "resisted_sprint" and line["expect"]
    )
    heavier = lines(whole(change(old, (f"{sled['ref']}.load_kg", sled["load_kg"] + 10))))[sled["ref"]]
    assert heavier["decrement"] > sled["decrement"]
    assert heavier["expect"]["time_s"] > sled["expect"]["time_s"]
    assert heavier["expect"]["low"] < heavier["expect"]["time_s"] < heavier["expect"]["high"]
    assert numbers(heavier) | {"load_kg": 0, "decrement": 0, "expect": 0} == numbers(sled) | {
        "load_kg": 0,
        "decrement": 0,
        "expect": 0,
    }
