"""A programme changed by hand: what the next revision says, and that nothing else moved.

DATA.md: a number changed by hand is a node `coach` with `proposed` and the reason, its field is in `locked`;
the revision names its parent's digest, cause and reason; a line that keeps session, method and exercise
keeps its ref, else it gets a new one and the old is retired. Totals: `outside_document.faults`. Closing
minutes 3 and 4: default doses, section 4, common practice.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from outside_document import changed, derivation, digest, faults, line, session, values
from outside_run import Answer, read, run

Data = dict[str, Any]
WHY = "Told so at the track"


def revised(old: Path, new: Path, *words: object) -> tuple[Data, Data, Answer]:
    """Run a command that makes the next revision; hold what every revision must keep."""
    answer = run(words[0], old, *words[1:], "--reason", WHY, "-o", new)
    assert answer.code == 0, answer.told
    before, after = read(old), read(new)
    revision = after["revision"]
    assert (revision["number"], revision["parent"]) == (before["revision"]["number"] + 1, digest(before))
    assert revision["reason"] == WHY
    assert after["id"] == before["id"]
    assert faults(after) == []
    return before, after, answer


def hand(programme: Data, owner: Data, field: str) -> Data:
    """Give the coach's own node of a number."""
    node: Data = programme["basis"][owner["basis"][field]]
    assert (node["by"], node["reason"], set(node["inputs"])) == ("coach", WHY, {"proposed"})
    return node


@pytest.mark.parametrize(
    ("ref", "fields", "follow"),
    [
        ("tereza-86", {"load_kg": 90.0}, set()),
        ("tereza-29", {"sets": 3, "reps": 2}, {"minutes", "rest_s"}),
        ("tereza-29", {"reps": 5}, {"minutes"}),
        ("tereza-6", {"sets": 2}, {"minutes", "contacts"}),
        ("tereza-12", {"sets": 2}, {"minutes"}),
        ("tereza-24", {"reps": 5}, {"contacts"}),
    ],
    ids=["load", "sets and repetitions", "runs", "jump sets", "sets of a lift", "jumps"],
)
def test_a_number(block: Path, tmp_path: Path, ref: str, fields: Data, follow: set[str]) -> None:
    (first, value), *more = fields.items()
    also = [word for name, other in more for word in ("--also", f"{ref}.{name}={other}")]
    before, after, _ = revised(block, tmp_path / "new.json", "edit", f"{ref}.{first}", value, *also)
    new, old = line(after, ref), line(before, ref)
    assert after["revision"]["cause"] == "edit"
    assert {name: new[name] for name in fields} == fields
    assert set(new["locked"]) == set(fields)
    for name in fields:
        assert hand(after, new, name)["value"] == fields[name]
        assert derivation(after, new, name)["inputs"]["proposed"]["value"] == old[name]
    own = {f"{ref}.{name}" for name in {*fields, *follow, "locked"}}
    elsewhere = changed(before, after) - own
    assert elsewhere <= {
        name for name in values(after) if name.endswith(".minutes") and name.split(".")[0] != ref
    }
    assert changed(before, after) & own == own


def test_a_day_and_a_start(block: Path, tmp_path: Path) -> None:
    words = ("edit", "tereza-1.date", "2026-09-08", "--also", "tereza-1.start=18:15")
    before, after, _ = revised(block, tmp_path / "new.json", *words)
    assert changed(before, after) == {"tereza-1.date", "tereza-1.start", "tereza-1.locked"}
    moved = session(after, "tereza-1")
    assert (moved["date"], moved["start"], moved["slot"]) == ("2026-09-08", "18:15", "mon_track")


def test_a_number_twice_keeps_what_the_tool_proposed(block: Path, tmp_path: Path) -> None:
    one, two = tmp_path / "one.json", tmp_path / "two.json"
    revised(block, one, "edit", "tereza-86.load_kg", 90)
    assert run("edit", one, "tereza-86.load_kg", 85, "--reason", WHY, "-o", two).code in {1, 2}
    assert not two.exists()  # it is locked, and says so
    _, after, _ = revised(one, two, "edit", "tereza-86.load_kg", 85, "--unlock")
    proposed = derivation(after, line(after, "tereza-86"), "load_kg")["inputs"]["proposed"]
    assert (proposed["by"], proposed["value"]) == ("kit.round_load", 92.5)


def test_a_swap(block: Path, tmp_path: Path) -> None:
    before, after, _ = revised(block, tmp_path / "new.json", "swap", "tereza-6", "double_leg_bound")
    own = after["programmes"][0]
    fresh = f"tereza-{before['programmes'][0]['next_ref']}"
    assert "tereza-6" in own["retired"]
    assert line(after, fresh)["exercise"] == "double_leg_bound"
    touched = {name.split(".")[0] for name in changed(before, after)}
    assert touched <= {"tereza-6", fresh, "tereza-1"}
    old_line, new_line = line(before, "tereza-6"), line(after, fresh)
    assert [new_line[name] for name in ("method", "sets", "reps", "rest_s")] == [
        old_line[name] for name in ("method", "sets", "reps", "rest_s")
    ]


def test_an_added_line(block: Path, tmp_path: Path) -> None:
    words = (
        "add",
        "tereza-1",
        "own_line",
        "--method",
        "technique",
        "--number",
        "sets=1",
        "--number",
        "reps=4",
    )
    before, after, _ = revised(
        block, tmp_path / "new.json", *words, "--minutes", 2.5, "--cue", "Relay changes"
    )
    fresh = f"tereza-{before['programmes'][0]['next_ref']}"
    new = line(after, fresh)
    assert (new["method"], new["sets"], new["reps"], new["minutes"]) == ("technique", 1, 4, 2.5)
    assert new["cue"] == "Relay changes"
    assert session(after, "tereza-1")["minutes"] == session(before, "tereza-1")["minutes"] + 2.5
    assert {name.split(".")[0] for name in changed(before, after)} == {fresh, "tereza-1"}


@pytest.mark.parametrize("ref", ["tereza-7", "tereza-19"], ids=["a line", "a session"])
def test_what_is_removed_is_retired_and_gone(block: Path, tmp_path: Path, ref: str) -> None:
    before, after, _ = revised(block, tmp_path / "new.json", "remove", ref)
    gone = {name.split(".")[0] for name in set(values(before)) - set(values(after))}
    assert ref in gone
    assert gone == set(after["programmes"][0]["retired"]) - set(before["programmes"][0]["retired"])


def test_a_copied_week_holds_the_same_work_on_its_own_days(block: Path, tmp_path: Path) -> None:
    words = ("copy", "tereza", "--week", 1, "--into", 2)
    before, after, _ = revised(block, tmp_path / "new.json", *words)
    work = ("exercise", "sets", "reps", "distance_m", "run_in_m", "load_kg")

    def held(week: Data) -> list[list[Any]]:
        lines = [one for day in week["sessions"] for one in day["prescriptions"] if one["purpose"] == "work"]
        return [[one[name] for name in work] for one in lines]

    old, new = before["programmes"][0]["weeks"], after["programmes"][0]["weeks"]
    assert held(new[1]) == held(old[0]) != held(old[1])
    assert [day["date"] for day in new[1]["sessions"]] == [day["date"] for day in old[1]["sessions"]]
    assert [week for at, week in enumerate(values_of(new)) if at != 1] == [
        week for at, week in enumerate(values_of(old)) if at != 1
    ]


def values_of(weeks: list[Data]) -> list[Data]:
    bare: Data = {"brief": None, "basis": {}}
    return [values({**bare, "programmes": [{"athlete": "x", "weeks": [week]}]}) for week in weeks]


def test_lock_and_unlock_change_the_lock_alone(block: Path, tmp_path: Path) -> None:
    one, two = tmp_path / "one.json", tmp_path / "two.json"
    before, locked, _ = revised(block, one, "lock", "tereza-86.load_kg")
    assert changed(before, locked) == {"tereza-86.locked"}
    assert line(locked, "tereza-86")["locked"] == ["load_kg"]
    _, free, _ = revised(one, two, "unlock", "tereza-86.load_kg")
    assert changed(before, free) == set()
    _, whole, _ = revised(block, one, "lock", "tereza-83")
    assert changed(before, whole) == {"tereza-83.locked"}
    assert session(whole, "tereza-83")["locked"] is True


def test_undo_brings_every_value_back_as_a_new_revision(block: Path, tmp_path: Path) -> None:
    one, two = tmp_path / "one.json", tmp_path / "two.json"
    before, edited, _ = revised(block, one, "edit", "tereza-4.reps", 5)
    assert run("undo", one, block, "--reason", WHY, "-o", two).code == 0
    after = read(two)
    assert changed(before, after) == set()
    assert after["revision"] == {
        "number": 3, "parent": digest(edited), "cause": "restore", "reason": WHY,
        "frozen_until": after["revision"]["frozen_until"],
    }  # fmt: skip
    assert after["programmes"][0]["next_ref"] >= edited["programmes"][0]["next_ref"]
    assert faults(after) == []


BROKEN = [
    (("edit", "tereza-86.load_kg", 400), "load_possible"),
    (("edit", "tereza-86.load_kg", 91), "load_possible"),
    (("edit", "tereza-5.load_kg", 3), "load_possible"),  # the empty sled is 6 kg
    (("edit", "tereza-4.sets", 9), "slot_minutes"),
    (("edit", "tereza-4.distance_m", 100), "place_straight"),  # 110 m with 20 m to stop
]


@pytest.mark.parametrize(("words", "rule"), BROKEN, ids=[f"{words[1]}={words[2]}" for words, _ in BROKEN])
def test_a_hard_rule_that_breaks_is_named_and_nothing_is_written(
    block: Path, tmp_path: Path, words: tuple[object, ...], rule: str
) -> None:
    new = tmp_path / "new.json"
    answer = run(words[0], block, *words[1:], "--reason", WHY, "-o", new)
    assert answer.code == 1
    assert f"({rule}:" in answer.out + answer.told
    assert not new.exists()


WARNED = [
    (("edit", "tereza-19.date", "2026-09-08"), {"sprint_gap", "plyometric_gap"}),
    (("edit", "tereza-4.rest_reps_s", 10), {"short_rest"}),
]


@pytest.mark.parametrize(("words", "rules"), WARNED, ids=[str(words[1]) for words, _ in WARNED])
def test_a_warning_is_named_and_the_check_says_it_of_the_document(
    block: Path, tmp_path: Path, words: tuple[object, ...], rules: set[str]
) -> None:
    new = tmp_path / "new.json"
    _, _, answer = revised(block, new, *words)
    assert all(f"({rule}:" in answer.out + answer.told for rule in rules)

    def warned(path: Path) -> set[tuple[str, str, str]]:
        return {
            (one["rule"], one["session"], one["line"])
            for one in run("check", path, "--json").value
            if one["weight"] == "warning"
        }

    assert {rule for rule, *_ in warned(new) - warned(block)} == rules


def test_why_names_the_dose_of_a_count_that_was_chosen_before_the_coach_set_it(
    block: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new.json"
    assert run("edit", block, "tereza-4.reps", 5, "--reason", "Told so", "-o", new).code == 0
    proposed = derivation(read(new), line(read(new), "tereza-4"), "reps")["inputs"]["proposed"]
    said = run("why", new, "tereza-4.reps").out
    # 8 stood there, by the solver's choice; the document keeps what the dose alone asks for, and says so.
    assert f"set by the coach; the dose alone asks for {proposed['value']:g}" in said
    assert "instead of" not in said
