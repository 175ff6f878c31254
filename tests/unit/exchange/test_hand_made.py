"""A programme somebody wrote line by line: accepted, or every fault named with row and column."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from speedloom.exchange.documents import canonical
from speedloom.exchange.fault import UnusableFileError
from speedloom.exchange.hand_made import Frame, read_hand_made
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from spreadsheets import write_ods, write_xlsx

Ask = Callable[..., Any]
HEADER = "athlete,date,session.start,place,exercise,sets,reps,minutes"
RUN = "mila,2026-01-12,18:00,hall,acceleration_run,1,6,12"
SQUAT = "mila,2026-01-14,9:30,gym,back_squat,3,5,14"


def written(tmp_path: Path, *rows: str, header: str = HEADER) -> Path:
    path = tmp_path / "mine.csv"
    path.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    return path


def read(path: Path, frame: Frame | None = None) -> Programme:
    return read_hand_made(
        path, rulebook=load_rulebook(), catalogue=load_catalogue(), frame=frame or Frame("Europe/Amsterdam")
    )


def test_what_is_left_out_is_filled_in(tmp_path: Path) -> None:
    later = SQUAT.replace("2026-01-14", "2026-01-28")
    (own,) = read(
        written(tmp_path, SQUAT, RUN, "mila,2026-01-12,18:00,hall,broad_jump_stick,3,5,8", later)
    ).programmes
    assert [(week.number, week.monday, week.kind, len(week.sessions)) for week in own.weeks] == [
        (1, date(2026, 1, 12), "loading", 2), (2, date(2026, 1, 19), "break", 0),
        (3, date(2026, 1, 26), "loading", 1),
    ]  # fmt: skip
    field, gym = own.weeks[0].sessions
    assert (field.minutes, field.minutes_available, field.role, gym.start.isoformat()) == (
        20,
        20,
        "neutral",
        "09:30:00",
    )
    assert [line.method for line in field.prescriptions] == ["unloaded_sprint", "plyometric"]
    refs = [
        ref
        for week in own.weeks
        for one in week.sessions
        for ref in (one.ref, *(x.ref for x in one.prescriptions))
    ]
    assert sorted(refs) == [f"mila-{number}" for number in range(1, 8)]
    assert own.next_ref == 8


def test_the_start_of_a_brief_numbers_the_weeks(tmp_path: Path) -> None:
    (own,) = read(written(tmp_path, RUN), Frame("Europe/Amsterdam", date(2026, 1, 1))).programmes
    assert [week.number for week in own.weeks] == [3]


def test_pounds_and_yards_are_read(tmp_path: Path) -> None:
    path = written(tmp_path, f"{RUN},20,45", header=f"{HEADER},distance_yd,load_lb")
    (line,) = read(path).programmes[0].weeks[0].sessions[0].prescriptions
    # 1 yd is 0.9144 m, 1 lb 0.45359237 kg: NIST SP 811 (memory).
    assert (line.distance_m, line.load_kg) == (18.29, 20.41)


@pytest.mark.parametrize(
    ("rows", "header", "row", "column", "said"),
    [
        ((RUN,), f"{HEADER},lod_kg", 1, "lod_kg", 'a known column, got "lod_kg"; did you mean "load_kg"?'),
        ((RUN,), HEADER.replace("reps", "rep"), 1, "reps", 'expected a column "reps", got none'),
        ((RUN,), HEADER.replace("minutes", "load_lb,load_kg"), 1, "load_kg", "each column once"),
        ((RUN.replace("acceleration_run", "acceleration_rum"),), HEADER, 2, "exercise", "acceleration_run"),
        ((RUN.replace(",6,", ",six,"),), HEADER, 2, "reps", 'a number, got "six"'),
        ((RUN.replace(",6,", ",2.5,"),), HEADER, 2, "reps", "a whole number"),
        ((RUN.replace(",6,", ",0,"),), HEADER, 2, "reps", "at least 1"),
        ((RUN.replace(",6,", ",,"),), HEADER, 2, "reps", "got an empty cell; fill it in"),
        ((RUN.replace("2026-01-12", "12.1.2026"),), HEADER, 2, "date", "a date, YYYY-MM-DD"),
        ((RUN.replace("18:00", "6 pm"),), HEADER, 2, "session.start", "a time of day, HH:MM"),
        ((RUN.replace("mila", "Mila V"),), HEADER, 2, "athlete", 'write "mila_v"'),
        ((f"{RUN},85",), f"{HEADER},share_1rm", 2, "share_1rm", "shares are fractions: 85 % is 0.85"),
        ((f"{RUN},sprint",), f"{HEADER},method", 2, "method", 'did you mean "unloaded_sprint"?'),
        ((f"{RUN},18:00",), f"{HEADER},start", 2, "start", "one of standing"),
        ((f"{RUN},2", f"{SQUAT},3"), f"{HEADER},week", 3, "week", "2 for 2026-01-14, counted from line 2"),
        ((f"{RUN},faster", f"{RUN},heavier"), f"{HEADER},role", 3, "role", 'expected "faster", as in line 2'),
        ((f"{RUN},a", f"{SQUAT},a"), f"{HEADER},ref", 3, "ref", "each ref once"),
    ],
)  # fmt: skip
def test_every_fault_has_its_row_and_column(
    tmp_path: Path, rows: tuple[str, ...], header: str, row: int, column: str, said: str
) -> None:
    with pytest.raises(UnusableFileError) as error:
        read(written(tmp_path, *rows, header=header))
    found = {(fault.row, fault.column): str(fault) for fault in error.value.faults}
    assert said in found[row, column]


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(UnusableFileError) as error:
        read(written(tmp_path, RUN.replace(",6,", ",six,"), RUN, SQUAT.replace("back_squat", "squatting")))
    assert [(fault.row, fault.column) for fault in error.value.faults] == [(2, "reps"), (4, "exercise")]


def test_a_sheet_is_read_as_the_csv_is(tmp_path: Path) -> None:
    rows = [line.split(",") for line in (HEADER, RUN, SQUAT)]
    wanted = canonical(read(written(tmp_path, RUN, SQUAT)))
    assert canonical(read(write_xlsx(tmp_path / "mine.xlsx", {"Plan": rows}))) == wanted
    assert canonical(read(write_ods(tmp_path / "mine.ods", {"Notes": [["x"]], "Plan": rows}))) == wanted
