"""`speedloom edit`, `lock`, `unlock` and `undo` as a coach types them, and what is handed out afterwards."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

Ask = Callable[..., Any]
Data = dict[str, Any]


def document(path: Path) -> Data:
    found: Data = json.loads(path.read_text(encoding="utf-8"))
    return found


def sessions(path: Path) -> list[Data]:
    return [one for own in document(path)["programmes"] for week in own["weeks"] for one in week["sessions"]]


def squat(path: Path) -> tuple[Data, Data]:
    """Give a back squat that leaves repetitions in reserve, with its session."""
    return next(
        (session, line)
        for session in sessions(path)
        for line in session["prescriptions"]
        if line["exercise"] == "back_squat" and line["load_kg"] and line["rir"] and line["sets"] > 1
    )


def test_an_edit_says_the_difference_and_why_tells_of_it(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    new = tmp_path / "new.json"
    lighter = line["load_kg"] - 2.5
    answer = ask(
        "edit", planned, f"{line['ref']}.load_kg", f"{lighter} kg", "--reason", "Stiff back", "-o", new
    )
    assert answer.code == 0
    assert f"Back squat load {line['load_kg']:g} kg → {lighter:g} kg." in answer.out
    assert answer.err == f"Written: {new} (revision 2)\n"
    told = ask("why", new, f"{line['ref']}.load_kg").out
    assert f"set by the coach instead of {line['load_kg']:g} kg: Stiff back." in told
    steps = json.loads(ask("why", new, f"{line['ref']}.load_kg", "--json").out)["steps"]
    assert (steps[-1]["by"], steps[-1]["value"], steps[-1]["reason"]) == ("coach", lighter, "Stiff back")


def test_pounds_are_typed_as_pounds(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    new = tmp_path / "new.json"
    assert ask("edit", planned, f"{line['ref']}.added_kg", "5 lb", "--reason", "Vest", "-o", new).code == 0
    changed = next(one for one in squat_lines(new) if one["ref"] == line["ref"])
    assert changed["added_kg"] == 2.27


def squat_lines(path: Path) -> list[Data]:
    return [line for session in sessions(path) for line in session["prescriptions"]]


def test_a_load_the_plates_cannot_make_is_not_written(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    new = tmp_path / "new.json"
    load = line["load_kg"] + 0.3
    answer = ask("edit", planned, f"{line['ref']}.load_kg", load, "--reason", "Odd", "-o", new)
    assert (answer.code, new.exists()) == (1, False)
    assert f"; nearest {line['load_kg']:g} or {line['load_kg'] + 2.5:g} kg" in answer.err
    assert "A hard rule does not allow this; nothing was written." in answer.err


def test_every_fault_is_told_at_once(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    ref, new = line["ref"], tmp_path / "new.json"
    also = ("--also", f"{ref}.reps=0", "--also", f"{ref}x.sets=2", "--also", f"{ref}.rest_s=ten")
    answer = ask("edit", planned, f"{ref}.load_kg", "90 s", *also, "--reason", "Slips", "-o", new)
    assert (answer.code, new.exists()) == (2, False)
    for words in (
        f"{ref}.load_kg: expected a number with kg, lb, got 90 s.",
        f"{ref}.rest_s: expected a number in s, got ten.",
        f"{ref}.reps: expected a number above 0, got 0.",
        f"{ref}x: expected the ref of a line or a session; did you mean {ref}?",
    ):
        assert words in answer.err
    lonely = ask("edit", planned, f"{ref}.sets", 3, "--also", "sets", "--reason", "Slip", "-o", new)
    assert (lonely.code, "--also: expected REF.FIELD=VALUE" in lonely.err) == (2, True)
    silent = ask("edit", planned, f"{ref}.sets", 3, "--reason", " ", "-o", new)
    assert (silent.code, "Expected a reason for the change" in silent.err) == (2, True)


def test_locks_are_said_although_no_number_differs(ask: Ask, planned: Path, tmp_path: Path) -> None:
    session, line = squat(planned)
    first, second, third = (tmp_path / f"{name}.json" for name in "abc")
    one = ask("lock", planned, session["ref"], "--reason", "It fits", "-o", first)
    two = ask("lock", first, f"{line['ref']}.reps", "--reason", "It fits", "-o", second)
    three = ask("unlock", second, session["ref"], "--reason", "No more", "-o", third)
    assert [each.out for each in (one, two, three)] == [
        f"Locked: {session['ref']}\n",
        f"Locked: {line['ref']}.reps\n",
        f"Unlocked: {session['ref']}\n",
    ]
    assert ask("lock", second, session["ref"], "--reason", "Again", "-o", third).out == "Nothing changed.\n"
    assert (squat(second)[0]["locked"], squat(second)[1]["locked"]) == (True, ["reps"])


def test_undo_brings_an_earlier_revision_back_as_a_new_one(ask: Ask, planned: Path, tmp_path: Path) -> None:
    _, line = squat(planned)
    new, back = tmp_path / "new.json", tmp_path / "back.json"
    ask("edit", planned, f"{line['ref']}.reps", line["reps"] + 1, "--reason", "More", "-o", new)
    answer = ask("undo", new, planned, "--reason", "Too much", "-o", back)
    assert (answer.code, f"repetitions {line['reps'] + 1} → {line['reps']}" in answer.out) == (0, True)
    assert document(back)["revision"]["number"] == 3
    assert ask("diff", planned, back).out == "Nothing changed.\n"


@pytest.fixture
def edited(ask: Ask, planned: Path, tmp_path: Path) -> tuple[Path, Data, Data]:
    """A programme with a lighter squat on another day and hour."""
    session, line = squat(planned)
    new = tmp_path / "edited.json"
    day = session["date"][:-2] + f"{int(session['date'][-2:]) + 1:02d}"
    also = ("--also", f"{session['ref']}.date={day}", "--also", f"{session['ref']}.start=7:15")
    load = line["load_kg"] - 2.5
    assert (
        ask("edit", planned, f"{line['ref']}.load_kg", load, *also, "--reason", "Early", "-o", new).code == 0
    )
    return new, session | {"date": day, "start": "07:15"}, line | {"load_kg": load}


def test_tables_and_workbooks_of_an_edited_programme(
    ask: Ask, edited: tuple[Path, Data, Data], tmp_path: Path
) -> None:
    path, session, line = edited
    table, book = tmp_path / "a.csv", tmp_path / "a.xlsx"
    assert ask("handout", path, "--csv", table, "--xlsx", book).code == 0
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    row = next(one for one in rows if one["ref"] == line["ref"])
    assert (float(row["load_kg"]), row["date"]) == (line["load_kg"], session["date"])
    assert len(openpyxl.load_workbook(book).sheetnames) > 1


def test_sheets_of_an_edited_programme_are_printed(
    ask: Ask, edited: tuple[Path, Data, Data], tmp_path: Path
) -> None:
    sheet = tmp_path / "a.pdf"
    assert ask("handout", edited[0], "--pdf", sheet, "--week", "2").code == 0
    assert sheet.read_bytes().startswith(b"%PDF")


def test_in_the_calendar_a_moved_session_stays_the_same_appointment(
    ask: Ask, planned: Path, edited: tuple[Path, Data, Data], tmp_path: Path
) -> None:
    before, after = tmp_path / "a.ics", tmp_path / "b.ics"
    assert ask("handout", planned, "--ics", before).code == 0
    assert ask("handout", edited[0], "--ics", after).code == 0
    was, now = (appointments(one) for one in (before, after))
    uid = next(one for one in was if one.partition("@")[0].endswith(f".{edited[1]['ref']}"))
    assert was.keys() == now.keys()
    assert int(now[uid]["SEQUENCE"]) == int(was[uid]["SEQUENCE"]) + 1
    assert now[uid]["DTSTART"] == f"{edited[1]['date'].replace('-', '')}T071500"
    assert was[uid]["DTSTART"] != now[uid]["DTSTART"]


def appointments(path: Path) -> dict[str, dict[str, str]]:
    """Read a calendar's appointments by UID, each with its properties."""
    text = path.read_bytes().decode("utf-8").replace("\r\n ", "")
    found = {}
    for block in text.split("BEGIN:VEVENT")[1:]:
        rows = [row.partition(":") for row in block.split("END:VEVENT")[0].splitlines()]
        event = {name.partition(";")[0]: value for name, _, value in rows}
        found[event["UID"]] = event
    return found
