"""The pages of docs/reference are those the code makes (decision 3)."""

from __future__ import annotations

import pytest

from house import DOCS
from speedloom.cli import _reference
from speedloom.exchange.tests_file import COLUMNS

PAGES = ("columns.md", "commands.md", "exercises.md")


@pytest.mark.parametrize("name", PAGES)
def test_the_page_is_fresh(name: str) -> None:
    made = _reference.pages()
    assert sorted(made) == list(PAGES)
    kept = (DOCS / "reference" / name).read_text(encoding="utf-8")
    assert kept == made[name], "run: .venv/bin/python -m speedloom.cli._reference docs/reference"


def test_every_column_of_a_tests_file_is_explained() -> None:
    assert set(COLUMNS) <= set(_reference.TESTS_MEANINGS)


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
