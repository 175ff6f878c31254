"""Tests files: kind about how a sheet was saved, strict about what it says."""

from __future__ import annotations

from pathlib import Path

import pytest

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.profiles import profile_file
from speedloom.exchange.tests_file import read_tests, split_distance_m
from speedloom.training.measurement import Measurements

HEADER = "athlete,date,trial,timing,clock,behind_m,10 m,20 m,30 m"
ROW = "mila,2026-01-08,1,gates,behind,0.5,1.702,2.962,4.148"


def read(tmp_path: Path, text: str, *, encoding: str = "utf-8") -> Measurements:
    path = tmp_path / "tests.csv"
    path.write_text(text, encoding=encoding)
    return read_tests(path)


def faults(tmp_path: Path, text: str) -> tuple[Fault, ...]:
    with pytest.raises(UnusableFileError) as caught:
        read(tmp_path, text)
    return caught.value.faults


@pytest.mark.parametrize(
    ("header", "metres"),
    [("10 m", 10.0), ("10m", 10.0), ("20 yd", 18.29), ("36,58 m", 36.58), ("5 metres", 5.0), ("40", None)],
)
def test_a_header_that_reads_as_a_distance(header: str, metres: float | None) -> None:
    assert split_distance_m(header) == metres


def test_however_it_was_saved_it_says_the_same(tmp_path: Path) -> None:
    plain = read(tmp_path, f"{HEADER}\n{ROW}\n")
    semicolons = f"{HEADER}\n{ROW}\n".replace(",", ";").replace(".", ",")
    assert read(tmp_path, semicolons) == plain
    assert read(tmp_path, f"{HEADER}\n{ROW}\n".replace(",", "\t"), encoding="utf-8-sig") == plain
    assert read(tmp_path, f"# a comment\n\n{HEADER.upper()},\n{ROW},\n,,,,\n".replace("\n", "\r\n")) == plain


def test_all_kinds_of_rows_in_one_file(tmp_path: Path) -> None:
    found = read(
        tmp_path,
        "athlete,date,trial,timing,clock,10 m,20 m,mass_kg,height_m,sled_kg,exercise,load_kg,reps,rir,"
        "flight_s,contact_s,added_kg,time_s,speed_mps\n"
        "mila,2026-01-08,1,gates,movement,1.9,3.2,61.5,1.69,,,,,,,,,,\n"
        "mila,2026-01-08,2,gates,movement,2.9,4.9,,,32,,,,,,,,,\n"
        "mila,2026-01-09,1,,,,,,,,back_squat,80,5,1,,,,,\n"
        "mila,2026-01-09,1,,,,,,,,,,,,0.52,0.18,,,\n"
        "mila,2026-01-09,2,,,,,,0.31,,,,,,,,10,,\n"
        "mila,2026-01-10,1,radar,,,,,,,,,,,,,,0.5,3.4\n"
        "mila,2026-01-10,1,radar,,,,,,,,,,,,,,1.0,5.6\n",
    )
    assert [trial.sled_kg for trial in found.trials] == [None, 32.0]
    assert [trial.mass_kg for trial in found.trials] == [61.5, 61.5]
    assert (found.lifts[0].exercise, found.lifts[0].rir) == ("back_squat", 1)
    assert [(jump.flight_s, jump.height_m, jump.added_kg) for jump in found.jumps] == [
        (0.52, None, 0.0),
        (None, 0.31, 10.0),
    ]
    assert [point.speed_mps for point in found.traces[0].points] == [3.4, 5.6]


def test_trials_without_a_number_count_in_the_file_s_order(tmp_path: Path) -> None:
    header = HEADER.replace("trial,", "")
    row = ROW.replace(",1,gates", ",gates")
    found = read(tmp_path, f"{header}\n{row}\n{row}\n{row.replace('01-08', '01-09')}\n")
    assert [trial.trial for trial in found.trials] == [1, 2, 1]


def test_every_fault_at_once_with_row_and_column(tmp_path: Path) -> None:
    typed = ROW.replace("1.702", "one").replace("behind", "behnd")
    text = f"{HEADER},spit\n{typed},\nMila,2026-1-8,1,,,,,,4.1,\n"
    found = [(fault.row, fault.column) for fault in faults(tmp_path, text)]
    assert found == [
        *((1, "spit"), (2, "10 m"), (2, "clock")),
        *((3, "athlete"), (3, "clock"), (3, "date"), (3, "timing")),
    ]


@pytest.mark.parametrize(
    ("old", "new", "column", "words"),
    [
        ("0.5,", ",", "behind_m", "fill it in"),
        ("1.702", "1.7.2", "10 m", "number"),
        ("1.702", "-1.702", "10 m", "from 0"),
        ("1.702", "nan", "10 m", "number"),
        ("1.702", "1e400", "10 m", "number"),
        ("1,gates", "1.5,gates", "trial", "whole"),
        ("1,gates", "0,gates", "trial", "from 1"),
        ("2026-01-08", "2026-02-30", "date", "YYYY-MM-DD"),
        ("mila", "Mila Example", "athlete", 'write "mila_example"'),
        ("gates", "stopwatch", "timing", "hand"),
    ],
)
def test_a_faulty_cell(tmp_path: Path, old: str, new: str, column: str, words: str) -> None:
    (fault,) = faults(tmp_path, f"{HEADER}\n{ROW.replace(old, new, 1)}\n")
    assert (fault.row, fault.column) == (2, column)
    assert words in f"{fault.expected} {fault.todo}"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "a header row"),
        (f"{HEADER},10.0 m\n{ROW},1\n", "each distance once"),
        (f"{HEADER},0 m\n{ROW},1\n", "up to 1000 m"),
        (f'{HEADER}\n"{ROW}\n', "CSV"),
    ],
)
def test_a_faulty_shape(tmp_path: Path, text: str, words: str) -> None:
    assert any(words in fault.expected for fault in faults(tmp_path, text))


def test_other_encodings_and_sheets_are_refused_kindly(tmp_path: Path) -> None:
    latin = tmp_path / "latin.csv"
    latin.write_bytes(f"{HEADER},surface\n{ROW},Gummi höhe\n".encode("latin-1"))
    sheet = tmp_path / "sheet.xlsx"
    sheet.write_bytes(b"PK\x03\x04")
    for path, words in (
        (latin, 'save it again as "UTF-8"'),
        (sheet, "save it again, without a password"),
        (tmp_path / "old.xls", "save it as .xlsx, .ods or CSV"),
        (tmp_path / "none.csv", "name"),
    ):
        with pytest.raises(UnusableFileError, match=words):
            read_tests(path)


@pytest.mark.parametrize(
    ("times", "clock", "why"),
    [
        ("1.9,3.2,0.5", "movement", "splits_not_increasing"),
        ("1.9,3.2,3.2", "movement", "splits_not_increasing"),
        ("0.9,3.2,4.4", "movement", "faster_than_anyone"),
        ("1.9,2.6,4.4", "unknown", "faster_than_anyone"),
        (",,0.5", "movement", "faster_than_anyone"),
        ("1.9,32,44", "movement", "slower_than_a_walk"),
        (",,", "movement", "no_times"),
    ],
)
def test_a_trial_that_cannot_be_true_is_refused_and_the_others_are_used(
    tmp_path: Path, times: str, clock: str, why: str
) -> None:
    path = tmp_path / "tests.csv"
    header = HEADER.replace("behind_m,", "")
    rows = [f"mila,2026-01-08,1,gates,{clock},{times}", f"mila,2026-01-08,2,gates,{clock},1.9,3.2,4.4"]
    path.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    (profile,), refused = profile_file(path)
    assert [(one.trial, one.why) for one in refused] == [(1, why)]
    assert profile.trials.used == (2,)
    assert profile.vmax_mps is not None
