"""The pages of docs/reference are those the code makes (decision 3)."""

from __future__ import annotations

from pathlib import Path

import pytest

from house import DOCS
from speedloom.cli import _brief_page, _reference
from speedloom.exchange.brief_file import read_brief_with_notes
from speedloom.exchange.log_csv import LOG_COLUMNS
from speedloom.exchange.tests_file import COLUMNS

PAGES = ("brief.md", "columns.md", "commands.md", "exercises.md")


@pytest.mark.parametrize("name", PAGES)
def test_the_page_is_fresh(name: str) -> None:
    made = _reference.pages()
    assert sorted(made) == list(PAGES)
    kept = (DOCS / "reference" / name).read_text(encoding="utf-8")
    assert kept == made[name], "run: .venv/bin/python -m speedloom.cli._reference docs/reference"


def test_every_column_of_a_tests_file_is_explained() -> None:
    assert set(COLUMNS) <= set(_reference.TESTS_MEANINGS)


def test_every_column_of_a_log_is_explained() -> None:
    assert set(_reference.LOG_MEANINGS) == set(LOG_COLUMNS)


def test_every_key_of_a_brief_is_explained() -> None:
    for part in _brief_page.PARTS:
        keys = part.model.model_json_schema(by_alias=True)["properties"]
        assert [name for name, key in keys.items() if not key.get("description")] == [], part.title


def test_the_examples_of_the_brief_page_are_a_brief(tmp_path: Path) -> None:
    path = tmp_path / "brief.toml"
    examples = [part.example for part in _brief_page.PARTS if part.example]
    path.write_text("\n\n".join(examples), encoding="utf-8")
    found = read_brief_with_notes(path)
    assert found.brief.own_lines[0].title == "Cuts 45"
    assert all("no tests" in note for note in found.notes), found.notes


def test_options_are_named_as_they_are_typed() -> None:
    page = _reference.commands_page()
    for option in (
        "`--json`",
        "`--output`, `-o`",
        "`--kind` (session, book, athlete)",
        "`REF[.FIELD]`",
        "`--toml`",
    ):
        assert option in page
