"""Work of lines that are gone: counted once, with the dose they had, and no line that came later with them.

DATA.md, "Log": an entry whose line was retired is "not in the programme now"; what was done stays done.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from outside_document import line
from outside_entries import about, runs, sets, write_log
from outside_run import read, run

Data = dict[str, Any]
JUMPS, TOP, SESSION = "tereza-24", "tereza-23", "tereza-19"


def done(programme: Path, log: Path) -> Data:
    own = run("review", programme, "--log", log, "--week", 1, "--json").value["weeks"][0]["athletes"][0]
    found: Data = own["amounts"]["done"]
    return found


@pytest.fixture(scope="module")
def lone(block: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the block with jumps alone in a session."""
    folder, old = tmp_path_factory.mktemp("lone"), block
    for at, ref in enumerate(("tereza-22", TOP, "tereza-25")):
        new = folder / f"{at}.json"
        assert run("remove", old, ref, "--reason", "Short", "-o", new).code == 0
        old = new
    return old


@pytest.fixture(scope="module")
def swapped(lone: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    new = tmp_path_factory.mktemp("swapped") / "new.json"
    assert run("swap", lone, JUMPS, "double_leg_bound", "--reason", "Shins", "-o", new).code == 0
    return new


def test_work_of_a_retired_line_is_not_counted_twice(block: Path, swapped: Path, tmp_path: Path) -> None:
    programme = read(block)
    jumps = about(programme, 1, JUMPS, *sets(6, 6, 6, 6))
    log = write_log(
        tmp_path / "log.json", programme, jumps, about(programme, 2, SESSION, effort=5, minutes=50)
    )
    assert done(swapped, log)["contacts"] == {"long": 24}


def test_a_session_done_as_written_is_what_was_written_then(
    lone: Path, swapped: Path, tmp_path: Path
) -> None:
    whole = about(read(lone), 1, SESSION, effort=5, minutes=50)
    before, after = (
        done(path, write_log(tmp_path / "log.json", read(lone), whole)) for path in (lone, swapped)
    )
    assert after == before
    (late,) = (ref for ref in refs(swapped) - refs(lone) if ref != SESSION)
    whole |= {"revision": read(swapped)["revision"]["number"]}
    now = done(swapped, write_log(tmp_path / "log.json", read(lone), whole))
    new = line(read(swapped), late)
    assert list(now["contacts"].values()) == [new["contacts"]]
    assert now["contacts"] != before["contacts"], "another class of contact"


def refs(path: Path) -> set[str]:
    own = read(path)["programmes"][0]
    return {line["ref"] for week in own["weeks"] for one in week["sessions"] for line in one["prescriptions"]}


def test_a_retired_runs_metres_keep_their_run_in(block: Path, tmp_path: Path) -> None:
    new, programme = tmp_path / "new.json", read(block)
    assert run("remove", block, TOP, "--reason", "Short", "-o", new).code == 0
    log = write_log(tmp_path / "log.json", programme, about(programme, 1, TOP, *runs(3, 15.0)))
    before, after = done(block, log), done(new, log)
    assert after == before
    assert (after["sprint_m"], after["from_90_m"] > 40.0) == (3 * 35.0, True)


def test_what_two_wrote_of_a_line_that_went_is_one_account(block: Path, tmp_path: Path) -> None:
    new, programme = tmp_path / "new.json", read(block)
    assert run("remove", block, TOP, "--reason", "Short", "-o", new).code == 0
    log = write_log(
        tmp_path / "log.json", programme, about(programme, 1, TOP), about(programme, 2, TOP, by="tereza")
    )
    assert done(new, log) == done(block, log)
    assert done(new, log)["sprint_m"] > 0.0


def test_a_line_that_comes_back_is_no_longer_gone(block: Path, tmp_path: Path) -> None:
    new, back = tmp_path / "new.json", tmp_path / "back.json"
    assert run("remove", block, TOP, "--reason", "Short", "-o", new).code == 0
    assert [one["ref"] for one in read(new)["programmes"][0]["retired_lines"]] == [TOP]
    assert "retired_lines" not in read(block)["programmes"][0]
    assert run("undo", new, block, "--reason", "Better", "-o", back).code == 0
    assert "retired_lines" not in read(back)["programmes"][0]
    log = write_log(tmp_path / "log.json", read(block), about(read(block), 1, SESSION, effort=5, minutes=50))
    assert done(new, log) == done(back, log) == done(block, log)
