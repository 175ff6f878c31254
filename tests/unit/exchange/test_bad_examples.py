"""Every file of examples/bad says all its faults in words, ends with exit code 2, leaves nothing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from house import ROOT
from speedloom.cli import app

BAD = ROOT / "examples" / "bad"
FILES = sorted(BAD.iterdir())
# What a coach has to read, for each file: place and advice.
SAID = {
    "centimetres.toml": ["line 52", "mass_kg of at least 25 kg, got 6.15", "169 cm is 1.69"],
    "clock_not_said.csv": ["line 3, clock", "never guessed", "line 4, behind_m"],
    "dates_backwards.toml": ["line 6", "2025-02-22", "exchange start and end"],
    "decimal_commas.csv": ["line 3", "10 cells", "put ; between the cells"],
    "empty.toml": ["schema", "timezone", "places", "slots", "goal"],
    "goal_without_distance.toml": ["goal", "distance_m"],
    "header_only.csv": ["one row a trial"],
    "header_without_units.csv": ['write a split column as "10 m"', '"20 m"', '"30 m"'],
    "impossible_body.csv": ["from 25 to 200 kg", "169 cm is 1.69", "load_kg"],
    "loosened_health_rule.toml": ["approved_by", '"sprint_gap"', '"hard_h"'],
    "mesocycles_too_long.toml": ["mesocycles that end within 6 weeks", "3 + 3 + 3"],
    "mesocycles_too_short.toml": ["mesocycles for all 6 weeks"],
    "newer_version.toml": ["speedloom.brief/2", "update Speedloom"],
    "no_athlete.csv": ['a column "athlete"', "each column once"],
    "no_such_place.toml": ["kit.sled.place", '"hall"', "slots.thu_gym.place", '"gym"'],
    "no_such_timezone.toml": ['did you mean "Europe/Amsterdam"?'],
    "nothing_to_train_in.toml": ["at least one of places", "at least one of slots"],
    "peak_outside.toml": ["2026-03-21", "move the peak or the end"],
    "percent_for_shares.toml": ["80 % is 0.8", "limits.1"],
    "programme_cut_short.json": ["line 38", "JSON"],
    "programme_is_a_list.json": ["speedloom.programme/1"],
    "programme_is_a_log.json": ["this is a log, not a programme"],
    "programme_newer_version.json": ["speedloom.programme/7", "update Speedloom"],
    "programme_not_a_number.json": ["NaN"],
    "programme_parts_missing.json": ["programmes", "revision", "timezone"],
    "programme_wrong_numbers.json": ["25 % is 0.25", '"load_kg"', "sets of at least 1", "YYYY-MM-DD"],
    "quote_missing.toml": ["line 3", "text stands in quotes"],
    "same_ref_twice.toml": ["slots.mon_hall.ref", "athletes.mila.ref"],
    "same_trial_twice.csv": ["line 4, trial", "trial 1 of mila on 2026-01-08 again"],
    "tests_broken.toml": ["words_for_numbers.csv", '"fell"'],
    "tests_missing.toml": ["no_such_sheet.csv", "beside the brief"],
    "text_for_numbers.toml": ["straight_m", "minutes", "leave the quotes out"],
    "unknown_exercises.toml": ['"hop"', '"back_squat"', '"depth_jump"', '"trap_bar_deadlift"'],
    "unknown_keys.toml": ['"taper_days"', '"minutes"', '"mass_kg"? 1 lb is 0.4536 kg'],
    "unknown_words.toml": ['"monday"', '"gym"', '"sled"', '"plyometric"'],
    "own_line_too_long.toml": ["own_lines.long.distance_m", "at most 30 m", "choose another slot"],
    "season_backwards.toml": ["phases.season.1", "until on or after 2026-02-20"],
    "slots_at_once.toml": ["outside the minutes of mon_again", "move, shorten or leave out"],
    "taper_of_seven.toml": ["taper_days of 0, or 8 to 14, got 7"],
    "tests_elsewhere.toml": ["beside the brief", "../elsewhere.csv"],
    "words_for_numbers.csv": ["line 3, 20 m", '"fell"', "line 4, date", '"gates"'],
}


def command(path: Path, output: Path) -> list[str]:
    """Say how a coach would use the file."""
    if path.suffix == ".toml":
        return ["plan", str(path), "-o", str(output)]
    return ["check" if path.suffix == ".json" else "profile", str(path)]


def test_there_are_many_and_each_is_expected_to_say_something() -> None:
    assert len(FILES) >= 40
    assert {path.name for path in FILES} == set(SAID)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_fault_in_words_and_no_file(path: Path, tmp_path: Path) -> None:
    before = sorted(BAD.iterdir())
    answer = CliRunner().invoke(app, command(path, tmp_path / "programme.json"))
    assert answer.exit_code == 2, answer.output
    assert "Traceback" not in answer.output
    assert [words for words in SAID[path.name] if words not in answer.stderr] == []
    assert list(tmp_path.iterdir()) == []
    assert sorted(BAD.iterdir()) == before


@pytest.mark.parametrize(
    "path", [path for path in FILES if path.suffix != ".json"], ids=lambda path: path.name
)
def test_the_first_line_says_what_is_wrong(path: Path) -> None:
    assert re.match(r"# Wrong: .{10,}\.$", path.read_text(encoding="utf-8").splitlines()[0])
