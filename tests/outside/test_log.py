"""What a log means, entry by entry: corrections, what was left out, stopped, partial, marked, extra.

Each row says what DATA.md ("Log") makes of it: "A correction is a new entry with `replaces`; the later `at`
wins, ties by `id`; both are kept"; "sending twice stores once"; a marked value "changes no estimate"; effort
and minutes of a whole session make its load. The line is 8 runs over 15 m, the lift 4 sets of 5 with 90 kg.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from outside_entries import about, key, runs, sets, write_log
from outside_run import read, run

Data = dict[str, Any]
RUN, LIFT, SESSION = "tereza-4", "tereza-11", "tereza-1"
NINE = {"replaces": key(1), "at": "2026-09-07T21:00:00+02:00"}


def entry(programme: Data, number: int, ref: str, *results: Data, **more: Any) -> Data:  # noqa: ANN401
    return about(programme, number, ref, *results, **more)


def reviewed(block: Path, folder: Path, *entries: Data) -> Data:
    log = write_log(folder / "log.json", read(block), *entries)
    assert run("log", "check", log, "--programme", block).code == 0
    own: Data = run("review", block, "--log", log, "--week", 1, "--json").value["weeks"][0]["athletes"][0]
    return own


def corrections() -> dict[str, tuple[list[tuple[int, int, Data]], int]]:
    """Give entries of the run as number, runs and fields, and how many runs hold in the end."""
    first = (1, 8, {})
    return {
        "none": ([first], 8),
        "the later holds, not the last in the file": (
            [first, (2, 6, NINE), (3, 7, {**NINE, "at": "2026-09-07T20:30:00+02:00"})],
            6,
        ),
        "of one moment the larger id": ([first, (3, 7, NINE), (2, 6, NINE)], 7),
        "moments, not clock faces": (
            [
                first,
                (2, 6, {**NINE, "at": "2026-09-07T18:30:00+00:00"}),
                (3, 7, {**NINE, "at": "2026-09-07T20:20:00+02:00"}),
            ],
            6,
        ),
        "a correction of a correction": (
            [first, (2, 6, NINE), (3, 5, {"replaces": key(2), "at": "2026-09-07T21:10:00+02:00"})],
            5,
        ),
        "a correction that is older": ([first, (2, 6, {**NINE, "at": "2026-09-07T19:00:00+02:00"})], 8),
        "sent twice": ([first, first], 8),
        "two phones that say the same": ([first, (2, 8, {})], 8),
    }


@pytest.mark.parametrize("name", corrections())
def test_corrections(block: Path, tmp_path: Path, name: str) -> None:
    programme, (entries, holds) = read(block), corrections()[name]
    made = [entry(programme, number, RUN, *runs(count, 15.0), **more) for number, count, more in entries]
    assert reviewed(block, tmp_path, *made)["amounts"]["done"]["sprint_m"] == holds * 15.0


def test_one_id_is_one_entry(block: Path, tmp_path: Path) -> None:
    programme = read(block)
    made = [entry(programme, 1, RUN, *runs(count, 15.0)) for count in (8, 6)]
    answer = run("log", "check", write_log(tmp_path / "log.json", programme, *made), "--programme", block)
    assert answer.code == 2
    assert key(1) in answer.told


def statuses() -> dict[str, tuple[str, list[Data], Data, float]]:
    """Give a ref, results and fields, and the metres run that they make."""
    return {
        "done without results is done as written": (RUN, [], {}, 120.0),
        "partial": (RUN, runs(5, 15.0), {"status": "modified", "reason": "time"}, 75.0),
        "stopped": (RUN, runs(3, 15.0), {"status": "stopped", "reason": "pain"}, 45.0),
        "left out": (RUN, [], {"status": "skipped", "reason": "time"}, 0.0),
        "marked": (RUN, runs(8, 15.0, mark="unusual"), {}, 0.0),
        "one of eight marked": (RUN, [*runs(7, 15.0), {**runs(8, 15.0, mark="unusual")[7]}], {}, 105.0),
        "gates of one run": (
            RUN,
            [
                {**runs(1, 15.0)[0], "distance_m": metres, "time_s": time}
                for metres, time in ((5.0, 1.3), (15.0, 2.5))
            ],
            {},
            15.0,
        ),
        "extra": (RUN, runs(2, 30.0), {"status": "extra", "session": None, "line": None}, 60.0),
        "absent": (SESSION, [], {"status": "absent", "reason": "illness"}, 0.0),
        "the session as written": (SESSION, [], {"effort": 6, "minutes": 70}, 120.0),
    }


@pytest.mark.parametrize("name", statuses())
def test_what_became_of_it(block: Path, tmp_path: Path, name: str) -> None:
    ref, results, more, metres = statuses()[name]
    own = reviewed(block, tmp_path, entry(read(block), 1, ref, *results, **more))
    assert own["amounts"]["done"]["sprint_m"] == metres


@pytest.mark.parametrize(
    ("results", "tonnes"),
    [
        (sets(5, 5, 4, load_kg=90.0), 1.26),
        (sets(5, 5, 4), 1.26),  # the load is the line's where none is written
        ([*sets(5, 5, load_kg=85.0), {**sets(5, 5, 5, load_kg=850.0, mark="unusual")[2]}], 0.85),
    ],
    ids=["with loads", "without loads", "one marked"],
)
def test_tonnes(block: Path, tmp_path: Path, results: list[Data], tonnes: float) -> None:
    own = reviewed(block, tmp_path, entry(read(block), 1, LIFT, *results))
    assert own["amounts"]["done"]["tonnage_kg"] == pytest.approx(1000.0 * tonnes)


def test_both_sides_count(block: Path, tmp_path: Path) -> None:
    # Split squat, 8 a side with two dumbbells of 12.5 kg: `reps` are per side, `load_kg` is both dumbbells.
    own = reviewed(block, tmp_path, entry(read(block), 1, "tereza-12", *sets(8, 8, 8, load_kg=25.0)))
    assert own["amounts"]["done"]["tonnage_kg"] == 3 * 8 * 2 * 25.0


@pytest.mark.parametrize(
    ("entries", "load"),
    [
        ([(1, {"effort": 6, "minutes": 70})], 420.0),
        ([(1, {"effort": 6.5, "minutes": 70.5})], 458.25),
        ([(1, {"effort": 0, "minutes": 70})], 0.0),
        ([(1, {"effort": 6})], 6 * 72.0),  # the planned minutes where none were written
        ([(1, {"effort": 6, "minutes": 70}), (2, {"effort": 5, "minutes": 60, **NINE})], 300.0),
        (
            [
                (1, {"effort": 6, "minutes": 70}),
                (2, {"effort": 5, "minutes": 40, "status": "extra", "session": None}),
            ],
            620.0,
        ),
    ],
    ids=["plain", "halves", "no effort", "no minutes", "corrected", "two sessions"],
)
def test_session_load(block: Path, tmp_path: Path, entries: list[tuple[int, Data]], load: float) -> None:
    programme = read(block)
    own = reviewed(block, tmp_path, *(entry(programme, number, SESSION, **more) for number, more in entries))
    assert own["load"]["days"] == [load, *6 * [0.0]]


def test_a_retired_line_is_found_by_day_and_exercise_and_said(block: Path, tmp_path: Path) -> None:
    later = tmp_path / "later.json"
    assert run("swap", block, "tereza-6", "double_leg_bound", "--reason", "Shins", "-o", later).code == 0
    jumps = entry(read(block), 1, "tereza-6", *sets(6, 6, 6))
    runs_too = entry(read(block), 2, RUN, *runs(8, 15.0))
    own = reviewed(later, tmp_path, jumps, runs_too)
    assert own["amounts"]["done"]["contacts"] == {"long": 18}
    said = [one["exercise"] for one in own["differences"] if one["kind"] == "not_in_programme"]
    assert said == [jumps["exercise"]]


def test_two_files_make_one_log_and_none_of_it_is_lost(block: Path, tmp_path: Path) -> None:
    programme, both = read(block), tmp_path / "both.json"
    one, other = (
        entry(programme, 1, RUN, *runs(8, 15.0)),
        entry(programme, 2, LIFT, *sets(5, 5, load_kg=90.0)),
    )
    for entries in ([one], [one, other], [other]):
        phone = write_log(tmp_path / "phone.json", programme, *entries)
        assert run("log", "read", phone, "--programme", block, "-o", both).code == 0
    kept = {kept["id"]: kept for kept in read(both)["entries"]}
    assert len(read(both)["entries"]) == 2
    for typed in (one, other):
        assert {name: kept[typed["id"]][name] for name in typed} == typed


def test_a_swap_counts_what_was_done_instead(block: Path, tmp_path: Path) -> None:
    programme = read(block)
    left = entry(programme, 1, RUN, status="skipped", reason="kit")
    instead = {"session": None, "line": None, "exercise": "acceleration_three_point", "status": "extra"}
    done = entry(programme, 2, RUN, *runs(4, 15.0), **instead)
    own = reviewed(block, tmp_path, left, done)
    assert own["amounts"]["done"]["sprint_m"] == 60.0
    assert own["amounts"]["unwritten"]["sprint_m"] == 2 * 20.0 + 3 * 35.0  # Thursday's, nothing written down
