"""`speedloom profile`: what pays, the sled on the floor, bands on request; the JSON stays as it was."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from house import ROOT

Ask = Callable[..., Any]
SQUAD = ROOT / "examples" / "spring_build_tests.csv"
SLED = """\
athlete,date,trial,timing,clock,behind_m,surface,sex,born,mass_kg,height_m,sled_kg,5 m,10 m,20 m,30 m,40 m
mila,2026-01-03,1,gates,behind,0.5,turf,female,2004-05-02,61.5,1.69,,1.10,1.86,3.19,4.46,5.73
mila,2026-01-03,2,gates,behind,0.5,turf,,,,,30,1.51,2.49,4.22,,
mila,2026-01-03,3,gates,behind,0.5,turf,,,,,30,1.52,2.50,4.25,,
mila,2026-01-03,4,gates,behind,0.5,grass,,,,,30,1.62,2.66,4.49,,
"""


def test_what_pays_is_a_line_an_athlete(ask: Ask) -> None:
    plain = ask("profile", SQUAD)
    lines = [line for line in plain.out.splitlines() if line.startswith("  what pays ")]
    assert len(lines) == 14
    assert all(
        "what pays over 30 m, from the model and no promise: 4 % more start force" in one for one in lines
    )
    assert "what pays over 20 m" in ask("profile", SQUAD, "--distance", "20").out
    assert ask("profile", SQUAD, "--distance", "2").code == 2


def test_too_few_gates_say_nothing_about_what_pays(ask: Ask, tmp_path: Path) -> None:
    few = "athlete,date,trial,timing,clock,10 m,20 m\nmila,2026-01-03,1,gates,unknown,1.86,3.19\n"
    path = tmp_path / "few.csv"
    path.write_text(few, encoding="utf-8")
    answer = ask("profile", path)
    assert answer.code == 0
    assert "what pays" not in answer.out


def test_bands_stand_only_where_they_are_asked_for_and_never_beside_a_minor(ask: Ask) -> None:
    assert "for orientation" not in ask("profile", SQUAD).out
    said = ask("profile", SQUAD, "--bands").out
    assert said.count("for orientation: 30 m") == 13
    yara = said[said.index("\nyara: ") :]
    assert "no reference band: the bands are of adults" in yara
    assert "for orientation" not in yara


@pytest.fixture
def sled_file(tmp_path: Path) -> Path:
    path = tmp_path / "sled.csv"
    path.write_text(SLED, encoding="utf-8")
    return path


def test_sled_runs_give_the_lines_to_paste(ask: Ask, sled_file: Path) -> None:
    answer = ask("profile", sled_file)
    assert answer.code == 0
    assert "mila, turf (gates): friction 0." in answer.out
    assert "    friction = { value = 0." in answer.out
    assert (
        "sled trial 4 on grass (gates) left out: the free sprints were run on another surface" in answer.out
    )


def test_the_page_on_timing_a_sled_prints_what_it_says(ask: Ask, tmp_path: Path) -> None:
    page = (ROOT / "docs" / "how-to" / "time-your-sled.md").read_text(encoding="utf-8")
    (rows,) = re.findall(r"```csv\n(.*?)```", page, re.DOTALL)
    (said,) = re.findall(r"```toml\n(.*?)\n```", page, re.DOTALL)
    path = tmp_path / "sled.csv"
    path.write_text(rows, encoding="utf-8")
    assert f"    {said}\n" in ask("profile", path).out


def test_the_json_stays_the_list_of_profiles(ask: Ask, sled_file: Path) -> None:
    plain = json.loads(ask("profile", sled_file, "--json").out)
    more = json.loads(ask("profile", sled_file, "--json", "--bands", "--distance", "20").out)
    assert plain == more
    assert [profile["ref"] for profile in plain] == ["mila/2026-01-03/gates"]


def test_a_refused_trial_says_the_two_values_and_the_unit_meant(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "tests.csv"
    path.write_text(
        "athlete,date,trial,timing,clock,start,10 m,30 m,40 m\n"
        "noa,2026-01-08,1,gates,unknown,standing,1.9,4.46,0.5\n"
        "noa,2026-01-08,2,gates,movement,standing,1800,4200,5300\n"
        "noa,2026-01-08,3,gates,unknown,standing,1.9,2.46,5.5\n",
        encoding="utf-8",
    )
    said = ask("profile", path).out
    assert "trial 1 left out: splits not increasing, 40 m in 0.50 s after 30 m in 4.46 s\n" in said
    assert "30 m in 4200 s after 10 m in 1800 s; were the times in milliseconds? 4200 ms is 4.20 s" in said
    assert "trial 3 left out: faster than anyone, 30 m in 2.46 s after 10 m in 1.90 s\n" in said


def test_a_file_without_runs_says_so(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "lifts.csv"
    path.write_text("athlete,date,exercise,load_kg,reps\nnoa,2026-01-08,back_squat,100,5\n", encoding="utf-8")
    answer = ask("profile", path)
    assert (answer.code, answer.out) == (2, "")
    assert 'expected sprint trials (a column a gate, such as "10 m"), got 1 lifts and 0 jumps' in answer.err


def test_a_speed_trace_says_what_pays(ask: Ask, tmp_path: Path) -> None:
    rows = ["athlete,date,trial,timing,time_s,speed_mps"]
    rows += [
        f"ada,2026-01-08,1,radar,{tick / 20:.2f},{8.8 * (1 - 0.41 ** (tick / 20)):.2f}" for tick in range(95)
    ]
    path = tmp_path / "radar.csv"
    path.write_text("\n".join(rows), encoding="utf-8")
    answer = ask("profile", path)
    assert answer.code == 0
    assert "8 January 2026, radar" in answer.out
    assert "what pays over 30 m" in answer.out
