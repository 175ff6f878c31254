"""Pages hold together: links lead somewhere, examples run, words are the trade's (HOUSE: habit 11)."""

from __future__ import annotations

import doctest
import re
from pathlib import Path
from typing import get_args

import pytest

from house import DOCS, ROOT
from speedloom.training import words

PAGES = [ROOT / "README.md", ROOT / "CHANGELOG.md", *sorted(DOCS.rglob("*.md"))]
LINK = re.compile(r"\]\(([^)#:\s]+)(?:#[^)\s]*)?\)")
each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())


@each_page
def test_links_lead_somewhere(page: Path) -> None:
    targets = LINK.findall(page.read_text(encoding="utf-8"))
    assert [target for target in targets if not (page.parent / target).exists()] == []


@each_page
def test_examples_run(page: Path) -> None:
    # The examples of functions.md are docstrings: they import nothing and run where they stand.
    source = "" if page.name == "functions.md" else page.read_text(encoding="utf-8")
    example = doctest.DocTestParser().get_doctest(source, {}, page.name, str(page), 0)
    result = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS).run(example)
    assert result.failed == 0


@each_page
def test_pages_call_no_other_host_for_pictures(page: Path) -> None:
    assert re.findall(r"!\[[^]]*\]\(https?:", page.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("word", [*words.METHODS, *words.LEVELS, *get_args(words.PlaceKind)])
def test_the_glossary_knows_the_closed_words(word: str) -> None:
    assert word.replace("_", " ") in (DOCS / "glossary.md").read_text(encoding="utf-8")


def test_the_glossary_stands_in_order() -> None:
    rows = re.findall(r"^\| ([^|]+) \|", (DOCS / "glossary.md").read_text(encoding="utf-8"), re.MULTILINE)[1:]
    assert rows == sorted(rows, key=str.casefold)


def test_the_readme_gives_the_job_two_commands_a_picture_and_a_screen() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 run.py demo" in text
    assert "python3 run.py test" in text
    assert re.search(r"!\[[^]]+\]\(docs/pictures/", text)


def test_every_page_is_reached_from_the_readme() -> None:
    reached, waiting = set[Path](), [ROOT / "README.md"]
    while waiting:
        page = waiting.pop().resolve()
        if page in reached or page.suffix != ".md" or not page.exists():
            continue
        reached.add(page)
        waiting += [page.parent / target for target in LINK.findall(page.read_text(encoding="utf-8"))]
    assert [page for page in PAGES if page.resolve() not in reached] == []
