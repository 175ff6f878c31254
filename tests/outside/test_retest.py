"""Two tests compared: change, typical error, what is worth having, chances and words, by `outside_retest`.

Prescription reference, section 9 and "Best 15" number 14 (read, computed there); rule T1 (common practice);
published typical errors: 10 m 1.6 % (Haugen and Buchheit 2016, read), longer runs 1.0 % (Haugen 2012, read).
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from outside_retest import (
    BEST_SD,
    BEST_SHIFT,
    chances,
    lone,
    squad,
    typical_error,
    verdict,
    worthwhile,
)
from outside_run import Answer, run

Data = dict[str, Any]
HEAD = "athlete,date,trial,timing,clock,start,surface,place"
FIRST, LAST = "2026-01-08", "2026-03-30"


@pytest.fixture(scope="module")
def retest(season: Path) -> tuple[list[dict[str, str]], Data]:
    path = season / "retest.csv"
    with path.open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    return rows, run("retest", path, "--json").value


@pytest.mark.parametrize("gate", ["5 m", "10 m", "20 m", "30 m", "40 m"])
def test_a_squad_is_drawn_together(retest: tuple[list[dict[str, str]], Data], gate: str) -> None:
    rows, found = retest
    names, days = (sorted({row[key] for row in rows}) for key in ("athlete", "date"))
    tables = [
        np.array(
            [
                [float(row[gate]) for row in rows if (row["athlete"], row["date"]) == (name, day)]
                for name in names
            ]
        )
        for day in days
    ]
    said = next(one for one in found["measures"] if one["measure"] == f"split_time/{gate.replace(' ', '')}")
    noise, freedom = typical_error(tables)
    assert said["typical_error"]["value"] == pytest.approx(noise, abs=6e-5)
    assert said["typical_error"]["repeats"] == freedom
    first, last = (table.min(axis=1) for table in tables)
    worth = worthwhile(first, noise * BEST_SD[3])
    assert said["smallest_worthwhile"]["value"] == pytest.approx(worth, abs=6e-5)
    error = noise * BEST_SD[3] * 2**0.5
    drawn, told = squad(first - last, error, worth, 3.0 * worth, freedom)
    for at, change in enumerate(said["changes"]):
        assert change["athlete"] == names[at]
        assert change["difference"] == pytest.approx(float(last[at] - first[at]))
        assert change["se"] == pytest.approx(error, abs=6e-5)
        assert change["drawn"] == pytest.approx(-float(drawn[at]), abs=2e-4)
        better, trivial, worse = told[at].tolist()
        assert [change["chances"][name] for name in ("better", "trivial", "worse")] == pytest.approx(
            [better, trivial, worse], abs=1e-3
        )
        assert change["verdict"] == verdict((better, trivial, worse), float(first[at] - last[at]), worth)


def sheet(folder: Path, rows: Sequence[str], gates: str = "30 m") -> Path:
    path = folder / "tests.csv"
    path.write_text("\n".join([f"{HEAD},{gates}", *rows]) + "\n", encoding="utf-8")
    return path


def row(name: str, day: str, trial: int, time: float, timing: str = "gates", surface: str = "track") -> str:
    return f"{name},{day},{trial},{timing},movement,standing,{surface},track,{time:.2f}"


def only(answer: Answer, measure: str = "split_time/30m") -> tuple[Data, Data]:
    found: Data = next(one for one in answer.value["measures"] if one["measure"] == measure)
    return found, found["changes"][0]


@pytest.mark.parametrize(
    ("before", "after", "noise", "worth"),
    [
        (4.30, 4.24, 0.02, 0.018),
        (4.30, 4.28, 0.02, 0.018),
        (4.24, 4.30, 0.02, 0.018),
        (4.30, 4.29, 0.02, 0.060),
    ],
    ids=["the reference's own", "too close", "slower", "no change"],
)
def test_one_athlete_by_the_plain_formula(
    tmp_path: Path, before: float, after: float, noise: float, worth: float
) -> None:
    path = sheet(tmp_path, [row("ada", FIRST, 1, before), row("ada", LAST, 1, after)])
    own = (f"--typical-error=split_time/30m={noise}", f"--worthwhile=split_time/30m={worth}")
    _, change = only(run("retest", path, *own, "--json"))
    mine = chances(before - after, noise * 2**0.5, worth)
    assert [change["chances"][name] for name in ("better", "trivial", "worse")] == pytest.approx(
        mine, abs=1e-4
    )
    assert change["verdict"] == verdict(mine, before - after, worth)
    if (before, after) == (4.30, 4.24):
        assert mine == pytest.approx((0.9312, 0.0659, 0.0029), abs=1e-4)  # "Best 15" 14, computed


def test_published_errors_where_the_squad_has_too_few_repeats(tmp_path: Path) -> None:
    rows = [row("ada", FIRST, 1, 4.30), row("ada", LAST, 1, 4.20)]
    said, change = only(run("retest", sheet(tmp_path, rows), "--json"))
    assert (said["typical_error"]["kind"], said["typical_error"]["source"]) == ("published", "haugen_2012")
    noise = said["typical_error"]["value"]
    assert noise == pytest.approx(0.010 * 4.25, abs=0.001)
    worth = said["smallest_worthwhile"]["value"]
    assert said["smallest_worthwhile"]["how"] == "error_instead"
    # Hopkins 2004, read: 0.3 of the CV; of both tests, as the error that is shown beside it.
    assert worth == pytest.approx(0.3 * 0.010 * (4.30 + 4.20) / 2, abs=6e-5)
    mine = chances(0.10, noise * 2**0.5, worth)
    assert change["chances"]["better"] == pytest.approx(mine[0], abs=2e-3)


def test_more_tries_make_a_better_best_and_are_held_against_it(tmp_path: Path) -> None:
    rows = [row("ada", FIRST, at, 4.30 + 0.01 * at) for at in (1, 2)]
    rows += [row("ada", LAST, at, 4.19 + 0.01 * at) for at in (1, 2, 3)]
    own = ("--typical-error=split_time/30m=0.03", "--worthwhile=split_time/30m=0.02")
    _, change = only(run("retest", sheet(tmp_path, rows), *own, "--json"))
    raw, lucky = 4.20 - 4.31, (BEST_SHIFT[3] - BEST_SHIFT[2]) * 0.03
    error = 0.03 * (BEST_SD[2] ** 2 + BEST_SD[3] ** 2) ** 0.5
    assert change["raw"] == pytest.approx(raw)
    assert change["difference"] == pytest.approx(raw + lucky, abs=6e-4)
    assert change["se"] == pytest.approx(error, abs=1e-4)
    _, change = only(run("retest", sheet(tmp_path, rows), *own, "--trial", "mean", "--json"))
    assert change["raw"] == pytest.approx(4.21 - 4.315, abs=6e-4)
    assert change["se"] == pytest.approx(0.03 * (1 / 2 + 1 / 3) ** 0.5, abs=1e-4)


def test_the_references_own_two_trials(tmp_path: Path) -> None:
    # "Best 15" 14: SD of the differences 0.0285774, typical error 0.0202073 (computed). Twice, so
    # that there are ten repeats; times are 1 s longer, which changes no difference.
    one = (3.10, 3.05, 3.20, 3.15, 3.00, 3.25)
    two = (3.12, 3.03, 3.18, 3.19, 3.02, 3.22)
    rows = [
        row(f"a{at}", day, trial, 1.0 + times[at])
        for day in (FIRST, LAST)
        for trial, times in ((1, one), (2, two))
        for at in range(6)
    ]
    said, change = only(run("retest", sheet(tmp_path, rows), "--json"))
    assert said["typical_error"] == {
        **said["typical_error"], "kind": "own", "repeats": 10, "value": pytest.approx(0.0202, abs=6e-5),
    }  # fmt: skip
    assert change["raw"] == 0.0
    assert change["verdict"] in {"trivial", "unclear"}


@pytest.mark.parametrize(
    ("timing", "surface"), [("hand", "track"), ("gates", "grass")], ids=["a stopwatch", "another floor"]
)
def test_what_was_timed_otherwise_is_not_compared(tmp_path: Path, timing: str, surface: str) -> None:
    rows = [row("ada", FIRST, 1, 4.30), row("ada", LAST, 1, 4.05, timing, surface)]
    rows += [row("bea", FIRST, 1, 4.40), row("bea", LAST, 1, 4.35)]
    answer = run("retest", sheet(tmp_path, rows), "--json")
    said, _ = only(answer)
    assert [one["athlete"] for one in said["changes"]] == ["bea"]
    left = [
        one
        for one in answer.value["left_out"]
        if one["athlete"] == "ada" and one["measure"].startswith("split_time")
    ]
    (gate,) = left
    (changed,) = gate["changed"]
    field = "timing" if timing == "hand" else "surface"
    assert (gate["measure"], changed["field"]) == ("split_time/30m", field)
    assert changed["after"] == (timing if field == "timing" else surface)


def test_an_error_that_is_itself_unsure_makes_a_chance_less_sure() -> None:
    sure, unsure = chances(0.06, 0.02 * 2**0.5, 0.018), lone(0.06, 0.02 * 2**0.5, 0.018, 10)
    assert unsure[0] < sure[0]
    assert sum(unsure) == pytest.approx(1.0)


def test_what_was_done_in_between_is_counted_from_the_log(season: Path) -> None:
    words = (season / "retest.csv", "--programme", season / "season_5.json")
    found = run("retest", *words, "--log", season / "log_week_12.json", "--json").value["done_between"]
    assert set(found) == {"amina", "eilidh", "ines", "mila", "nomvula", "yara"}
    assert all(0 < one["sessions"] <= one["planned"] for one in found.values())


def test_worth_having_is_three_tenths_of_the_error_that_is_shown(tmp_path: Path) -> None:
    path = tmp_path / "tests.csv"
    path.write_text(
        "athlete,date,trial,timing,clock,start,surface,place,30 m\n"
        "ada,2026-01-08,1,gates,movement,standing,track,track,4.30\n"
        "ada,2026-03-30,1,gates,movement,standing,track,track,3.80\n"
    )
    (said,) = run("retest", path, "--json").value["measures"]
    assert said["smallest_worthwhile"]["value"] == pytest.approx(
        0.3 * said["typical_error"]["value"], abs=6e-5
    )
