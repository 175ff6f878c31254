"""`speedloom review` as a user meets it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from log_entries import entry, log_of
from speedloom.exchange.documents import canonical

Ask = Callable[..., Any]


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log of the small programme: Monday of week 2 done, Wednesday's lost to an illness."""
    path = tmp_path / "log.json"
    told = log_of(
        entry(1, session="mila-200", effort=6.0, minutes=60.0),
        entry(2, session="mila-250", date="2026-01-21", status="absent", reason="illness"),
    )
    path.write_text(canonical(told), encoding="utf-8")
    return path


def test_a_week_as_text(ask: Ask, small: Path, log: Path) -> None:
    answer = ask("review", small, "--log", log, "--week", 2)
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith("Week 2: planned beside done · Mon 19 Jan to Sun 25 Jan\n")
    assert "mila: Wed 21 Jan not trained (illness)" in answer.out


def test_all_weeks_so_far_and_one_athlete(ask: Ask, small: Path, log: Path) -> None:
    answer = ask("review", small, "--log", log)
    assert answer.out.startswith("Weeks 1 to 2: planned beside done · Until Sun 25 Jan\n")
    assert ask("review", small, "--log", log, "--athlete", "mila").out.startswith("mila · Weeks 1 to 2")


def test_json_is_one_value(ask: Ask, small: Path, log: Path) -> None:
    told = json.loads(ask("review", small, "--log", log, "--week", 2, "--json").out)
    load = told["weeks"][0]["athletes"][0]["load"]
    assert (load["total"], load["state"], load["monotony"]) == (360.0, "known", 0.378)


def test_paper_and_picture(ask: Ask, small: Path, log: Path, tmp_path: Path) -> None:
    pdf, svg = tmp_path / "week.pdf", tmp_path / "mila.svg"
    answer = ask(
        "review", small, "--log", log, "--week", 2, "--athlete", "mila", "--pdf", pdf, "--svg", svg,
        "--paper", "us-letter", "--mass", "lb", "--length", "yd",
    )  # fmt: skip
    assert (answer.code, answer.out) == (0, "")
    assert answer.err.splitlines() == [f"Written: {pdf}", f"Written: {svg}"]
    assert pdf.read_bytes().startswith(b"%PDF")
    assert "mila: session load day by day" in svg.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--week", "9"], "Expected a week from 1 to 4, got 9"),
        (["--athlete", "zoe"], "--athlete: expected one of mila, got zoe."),
        (["--pdf", "{folder}"], "expected the name of a file to write, got a folder"),
        (["--pdf", "{folder}/one", "--svg", "{folder}/one"], "Expected two names for two files"),
    ],
)
def test_what_cannot_be_done_is_said(
    ask: Ask, small: Path, log: Path, tmp_path: Path, arguments: list[str], said: str
) -> None:
    answer = ask("review", small, "--log", log, *(one.format(folder=tmp_path) for one in arguments))
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err


def test_a_log_of_another_programme(ask: Ask, small: Path, tmp_path: Path) -> None:
    path = tmp_path / "other.json"
    path.write_text(canonical(log_of(programme="000000000000")), encoding="utf-8")
    answer = ask("review", small, "--log", path)
    assert answer.code == 2
    assert "name the programme that the log is about" in answer.err
