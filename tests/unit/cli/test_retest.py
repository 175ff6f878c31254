"""`speedloom retest`: text, JSON and paper as people meet them, and what it refuses."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from house import ROOT
from retest_tests import FIRST, LAST, NAMES, file_text, run, squad_rows

Ask = Callable[..., Any]


def page_words(content: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(content)).pages]


@pytest.fixture
def tests_file(tmp_path: Path) -> Path:
    path = tmp_path / "tests.csv"
    path.write_text(file_text(squad_rows(gain=0.12)), encoding="utf-8")
    return path


def test_the_text_names_error_worth_and_chance(ask: Ask, tests_file: Path) -> None:
    answer = ask("retest", tests_file)
    assert answer.code == 0
    said = answer.out[answer.out.index("30 m time") : answer.out.index("40 m time")]
    assert "8 January 2026 against 2 April 2026; trials 3 against 3; s" in said
    assert "own: 20 repeats of 6 athletes" in said
    assert "0.2 of the spread of 6 athletes, noise taken out" in said
    # The chance stands in the column of "better", once, and the row ends in the words for it.
    assert re.search(r"^  \w+ .*±.* (>99|\d+) %  .*likely faster$", said, re.MULTILINE)
    assert "nothing here says why something changed" in answer.out


def test_the_json_is_one_value_with_everything(ask: Ask, tests_file: Path) -> None:
    found = json.loads(ask("retest", tests_file, "--json").out)
    assert found["rule"] == {"id": "change_call", "benefit": 0.75, "harm": 0.05}
    measure = next(one for one in found["measures"] if one["measure"] == "split_time/30m")
    assert measure["typical_error"]["kind"] == "own"
    assert [one["athlete"] for one in measure["changes"]] == list(NAMES)
    for change in measure["changes"]:
        assert sum(change["chances"].values()) == pytest.approx(1.0, abs=2e-4)
        assert len(change["before"]["trials"]) == 3


def test_two_files_are_one_test_and_a_row_in_both_counts_once(ask: Ask, tmp_path: Path) -> None:
    rows = squad_rows()
    first, both = tmp_path / "first.csv", tmp_path / "both.csv"
    first.write_text(file_text([row for row in rows if FIRST in row]), encoding="utf-8")
    both.write_text(file_text(rows), encoding="utf-8")
    assert ask("retest", first, both, "--json").out == ask("retest", both, "--json").out


def test_what_is_left_out_is_named_and_the_rest_goes_on(ask: Ask, tmp_path: Path) -> None:
    rows = [row for row in squad_rows() if not row.startswith(f"bela,{LAST}")]
    rows = [row.replace("gates", "hand") if row.startswith(f"cleo,{LAST}") else row for row in rows]
    rows.append(run("anna", LAST, 4, 4.2).replace("4.20", "1.20"))
    path = tmp_path / "tests.csv"
    path.write_text(file_text(rows), encoding="utf-8")
    answer = ask("retest", path)
    assert answer.code == 1
    said = " ".join(answer.out.split())
    assert max(map(len, answer.out.splitlines())) <= 100
    assert "bela: 5 m time, 10 m time" in said
    assert "tested on one day only (8 January 2026)" in said
    assert "timing gates, then hand (8 January 2026 and 2 April 2026). Test again as the first time" in said
    assert "anna: run 4 of 2 April 2026 left out: splits not increasing." in said


def test_one_date_only_is_nothing_to_compare(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "tests.csv"
    path.write_text(file_text([row for row in squad_rows() if FIRST in row]), encoding="utf-8")
    answer = ask("retest", path)
    assert answer.code == 2
    assert not answer.out
    assert answer.err.startswith("Nothing to compare")
    assert "anna: 5 m time" in answer.err


REFUSED = [
    (["--typical-error", "split_time/30m"], "expected MEASURE=NUMBER above 0"),
    (["--worthwhile", "split_time/30m=-1"], "expected MEASURE=NUMBER above 0"),
    (["--worthwhile", "split_time/35m=0.02"], "expected one of the measures compared"),
    (["--athlete", "anna"], "expected --pdf-athlete FILE with it"),
    (["--athlete", "zoe", "--pdf-athlete", "zoe.pdf"], "expected one of anna"),
    (["--log", "log.json"], "expected --programme FILE with it"),
    (["--pdf-athlete", "a.pdf", "--pdf-colleagues", "a.pdf"], "two names for two files"),
]


@pytest.mark.parametrize(("options", "said"), REFUSED)
def test_what_cannot_be_asked(
    ask: Ask, tests_file: Path, monkeypatch: pytest.MonkeyPatch, options: list[str], said: str
) -> None:
    monkeypatch.chdir(tests_file.parent)
    answer = ask("retest", tests_file, *options)
    assert answer.code == 2
    assert said in answer.err
    assert sorted(path.name for path in tests_file.parent.iterdir()) == ["tests.csv"]


def test_numbers_of_ones_own(ask: Ask, tests_file: Path) -> None:
    said = ask(
        "retest", tests_file, "--typical-error", "split_time/30m=0,05", "--worthwhile", "split_time/30m=0.04"
    ).out
    part = said[said.index("30 m time") : said.index("40 m time")]
    assert "typical error: 0.050 s a trial, given" in part
    assert "worth having: 0.040 s: given" in part


def test_the_papers(ask: Ask, tests_file: Path) -> None:
    own, colleagues = tests_file.with_name("own.pdf"), tests_file.with_name("two.pdf")
    answer = ask("retest", tests_file, "--pdf-athlete", own, "--pdf-colleagues", colleagues)
    assert answer.code == 0
    pages = page_words(own.read_bytes())
    assert len(pages) == len(NAMES)
    for name, page in zip(NAMES, pages, strict=True):
        assert page.startswith(name)
        assert not [other for other in NAMES if other != name and other in page.split()]
        assert "Your tests of 8 January 2026 and 2 April 2026" in page
    book = page_words(colleagues.read_bytes())
    assert len(book) == 2
    assert "Smallest worthwhile change." in book[0]
    assert all(name in book[1] for name in NAMES)
    one = tests_file.with_name("one.pdf")
    ask("retest", tests_file, "--pdf-athlete", one, "--athlete", "bela")
    assert [page.split()[0] for page in page_words(one.read_bytes())] == ["bela"]


def test_a_brief_gives_names_and_the_distance_that_counts(ask: Ask, tmp_path: Path) -> None:
    brief = ROOT / "examples" / "short_block.toml"
    text = (ROOT / "examples" / "short_block_tests.csv").read_text(encoding="utf-8")
    again = tmp_path / "again.csv"
    kept = [line for line in text.splitlines() if not line.startswith("#")]
    days = {line.split(",")[1] for line in kept[1:]}
    again.write_text(
        "\n".join(line.replace(min(days), "2027-04-01") for line in kept) + "\n", encoding="utf-8"
    )
    answer = ask("retest", again, "--brief", brief)
    assert answer.code == 0
    assert "1 April 2027" in answer.out
