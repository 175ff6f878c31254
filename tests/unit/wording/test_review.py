"""The review's words: squares, sentences, pages; no blame, no risk, nothing missing read as zero."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest

from log_entries import entry, log_of, result
from small_programme import small_programme
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.wording.review import review_text
from speedloom.wording.review_cells import square
from speedloom.wording.review_differences import days_text
from speedloom.wording.review_pages import Reviewer, named_together
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.review_week import review

FIELD = {"session": "mila-200"}
GYM = {"session": "mila-250", "date": "2026-01-21"}
SLED_LINE = {**FIELD, "line": "mila-203", "exercise": "sled_sprint"}
FORBIDDEN = re.compile(
    r"risk|injur|predict|prevent|significan|danger|zone|overtrain|lazy|fail|should|must|fault|blame|ratio",
    re.IGNORECASE,
)


def text(
    *entries: dict[str, Any], week: int | None = 2, units: Units = METRIC, athlete: str | None = None
) -> str:
    programme = small_programme()
    found = review(
        programme, log_of(*entries), week=week, rulebook=load_rulebook(), catalogue=load_catalogue()
    )
    return review_text(Reviewer(found, programme, load_catalogue(), units), athlete=athlete)


def rows(told: str, label: str) -> list[list[str]]:
    """Give the squares of the rows that begin with a label."""
    return [re.split(r"\s{2,}", line)[1:] for line in told.splitlines() if line.startswith(label)]


@pytest.mark.parametrize(
    ("done", "planned", "open_part", "expected"),
    [
        ("200", "200", False, "200"),
        ("0", "200", False, "0 of 200"),
        ("0", "200", True, "? of 200"),
        ("150", "200", True, "150+ of 200"),
        ("60", "0", False, "60 of 0"),
        ("0", "0", False, "–"),
    ],
)
def test_squares(done: str, planned: str, *, open_part: bool, expected: str) -> None:
    assert square(done, planned, open_part=open_part) == expected


def test_a_week_in_tables() -> None:
    told = text(
        entry(1, **FIELD, effort=6.0, minutes=60.0), entry(2, **GYM, status="absent", reason="illness")
    )
    work, load, averages = rows(told, "mila")
    assert work == ["1 of 2", "60", "–", "–", "40", "20 of 35", "0 of 6", "0 of 2.2", "60 of 110"]
    assert load[:7] == ["360", *["–"] * 6]
    assert load[7:] == ["360", "0.38", "136", "–"]
    assert len(averages) == 3
    assert "mila: Wed 21 Jan not trained (illness)" in told
    assert "Back squat" in told


def test_nothing_written_down_is_said_and_is_no_zero() -> None:
    told = text(entry(1, **FIELD, minutes=60.0))
    work, load, _ = rows(told, "mila")
    assert work[0] == "1+ of 2"
    assert work[6] == "? of 6"
    assert load[-4:] == ["at least 0", "not known", "not known", "2 of 2"]
    assert "mila: Wed 21 Jan, the whole session" in told
    assert "Nothing written down: 1 of 2 sessions planned until then" in told
    assert "Without effort or minutes: 1 of 1 session that took place" in told
    assert "Not known: a session has no effort or minutes written down, or nothing at all." in told


def test_the_same_load_every_day_is_undefined_in_words() -> None:
    days = [
        entry(number, session=None, status="extra", date=f"2026-01-{19 + number}", effort=5.0, minutes=60.0)
        for number in range(7)
    ]
    gone = [entry(8, **FIELD, status="absent"), entry(9, **GYM, status="absent")]
    told = text(*days, *gone)
    assert rows(told, "mila")[1][7:] == ["2100", "undefined", "undefined", "–"]
    assert "Undefined: every day had the same load" in told


def test_who_differed_and_why() -> None:
    sled = [result(set=1, rep=rep, load_kg=30.0, distance_m=10.0, time_s=3.4) for rep in (1, 2)]
    told = text(
        entry(1, **FIELD, effort=6.0, minutes=60.0, status="modified", reason="time", note="Hall shut"),
        entry(2, **SLED_LINE, status="modified", reason="kit", results=sled),
        entry(3, **FIELD, line="mila-202", exercise="acceleration_run", status="skipped", reason="weather"),
        entry(4, **FIELD, line="mila-204", exercise="broad_jump_stick"),
        entry(5, **GYM, effort=5.0, minutes=50.0),
    )
    assert (
        "mila: Mon 19 Jan (time): Standing run not done (weather); Sled 2 of 4 runs (kit); "
        "Sled 30 kg instead of 37.5 kg (kit)"
    ) in " ".join(told.split())
    assert "Hall shut" not in told


def test_notes_stand_on_the_athletes_own_page_only() -> None:
    entries = (entry(1, **FIELD, status="absent", reason="pain", note="Calf"), entry(2, **GYM))
    assert "“Calf”" in text(*entries, athlete="mila")
    assert "Calf" not in text(*entries)
    line = entry(1, **SLED_LINE, status="stopped", reason="pain", note="Grabbed")
    assert "“Grabbed”" in text(line, athlete="mila")


def test_unusual_values_are_questions() -> None:
    fast = [result(set=1, rep=1, distance_m=30.0, time_s=0.9, load_kg=37.5, mark="unusual")]
    told = text(entry(1, **SLED_LINE, results=fast))
    assert "mila: Mon 19 Jan Sled sprint: 30 m in 0.90 s with 37.5 kg. Is that right?" in told
    assert "kept in the log and are in no sum" in told


def test_pounds_and_yards() -> None:
    told = text(entry(1, **FIELD), entry(2, **GYM), units=Units("lb", "yd"))
    assert "sprint yd" in told
    assert "tonnage 1000 lb" in told
    work = rows(told, "mila")[0]
    # 60 m and 40 m in yards; 450 + 1740 kg are 4,828 lb.
    assert (work[1], work[4], work[7]) == ("66", "44", "4.8")
    assert text(entry(1, **FIELD), entry(2, **GYM), units=Units("lb", "yd")).count(" kg") == 0


def test_all_weeks_of_the_squad_and_of_one_athlete() -> None:
    entries = [
        entry(number, session=f"mila-{100 * week + extra}", date=day, effort=5.0, minutes=60.0)
        for number, (week, extra, day) in enumerate(
            ((1, 0, "2026-01-12"), (1, 50, "2026-01-14"), (2, 0, "2026-01-19"), (2, 50, "2026-01-21"))
        )
    ]
    squad, athlete = text(*entries, week=None), text(*entries, week=None, athlete="mila")
    assert "Weeks 1 to 2: planned beside done" in squad
    assert rows(squad, "Week 1 (introduction)")[0][:2] == ["2", "50"]
    assert rows(squad, "Week 2")[0][:2] == ["2", "60"]
    assert rows(athlete, "All weeks")[0][:2] == ["4", "110"]
    assert "The 28-day line leans on the first day" in athlete
    assert "counted as written: 4 sessions" in athlete


def test_no_blame_and_no_word_of_risk() -> None:
    sled = [result(set=1, rep=1, load_kg=30.0, distance_m=10.0, time_s=3.4, mark="unusual")]
    entries = (
        entry(1, **FIELD, status="stopped", reason="pain", effort=6.0),
        entry(2, **SLED_LINE, status="stopped", reason="pain", results=sled),
        entry(3, session=None, status="extra", date="2026-01-24", effort=3.0, minutes=30.0),
    )
    for told in (text(*entries), text(*entries, week=None), text(*entries, athlete="mila")):
        assert FORBIDDEN.findall(told) == []


def test_a_line_of_the_terminal_has_at_most_120_columns() -> None:
    assert max(map(len, text(entry(1, **FIELD, minutes=60.0)).splitlines())) <= 120


def test_days() -> None:
    assert days_text([date(2026, 1, 30), date(2026, 1, 31), date(2026, 2, 2)]) == (
        "Fri 30, Sat 31 Jan and Mon 2 Feb"
    )


def test_what_is_said_of_several_is_said_once() -> None:
    rain = "Thu 19 Feb not trained (weather)"
    said = {"Ada": (rain,), "Bea": ("Mon 16 Feb not trained (illness)", rain), "Cleo": (rain,), "Dina": ()}
    told = [(one.name, one.texts) for one in named_together(said)]
    assert told == [("Ada, Bea and Cleo", (rain,)), ("Bea", ("Mon 16 Feb not trained (illness)",))]
    everybody = named_together(dict.fromkeys(("Ada", "Bea", "Cleo", "Dina"), (rain,)))
    assert [(one.name, one.texts) for one in everybody] == [("All 4", (rain,))]
