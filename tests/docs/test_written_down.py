"""What the page on writing down shows is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from house import DOCS
from log_entries import entry, log_of, result
from small_programme import document, small_programme
from speedloom.exchange.filled_weeks import Writing
from speedloom.exchange.log_table import read_log_csv
from speedloom.training.rule import load_rulebook
from speedloom.wording.log_questions import question_sentence
from speedloom.workflows.log_questions import RULE, questions
from speedloom.workflows.standing_log import standing_log

TEXT = (DOCS / "how-to" / "write-down-what-was-done.md").read_text(encoding="utf-8")
RULEBOOK = load_rulebook()


def test_the_table_it_shows_is_read(tmp_path: Path) -> None:
    found = re.search(r"```\n(line,.*?)```", TEXT, re.DOTALL)
    assert found is not None
    path = tmp_path / "shown.csv"
    path.write_text(found[1], encoding="utf-8")
    log, _ = read_log_csv(path, small_programme(), writing=Writing(by="coach"))
    assert [(one.line, len(one.results)) for one in log.entries] == [("mila-203", 2), ("mila-252", 1)]


def test_the_question_it_shows_is_asked() -> None:
    content = document()
    content["programmes"][0]["weeks"][1]["sessions"][0]["prescriptions"][1]["distance_m"] = 30
    programme = small_programme(content)
    typed = entry(
        1, line="mila-202", exercise="acceleration_run", timing="gates", clock="movement",
        results=[result(rep=1, distance_m=30, time_s=0.9)],
    )  # fmt: skip
    standing = standing_log(log_of(typed), programme)
    (question,) = questions(standing, rulebook=RULEBOOK)
    said = question_sentence(question, programme=programme, rulebook=RULEBOOK)
    assert said.replace("mila,", "Mila,", 1) in TEXT


def test_the_limits_it_names_are_those_of_the_rule() -> None:
    numbers = {
        name: RULEBOOK.number(RULE, name)
        for name in (
            "time_faster",
            "time_slower",
            "load_lighter",
            "load_heavier",
            "reps_more",
            "minutes_more",
        )
    }
    assert numbers == {
        "time_faster": 0.85, "time_slower": 1.3, "load_lighter": 0.5, "load_heavier": 1.25, "reps_more": 2,
        "minutes_more": 2,
    }  # fmt: skip
    for words in ("15 % faster or 30 % slower", "half or more than 1.25", "twice the repetitions"):
        assert words in " ".join(TEXT.split())
