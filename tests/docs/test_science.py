"""Every rule, formula, source and function of science is documented (HOUSE: habit 11)."""

from __future__ import annotations

import ast
import re
import runpy
import tomllib

import pytest

from house import DOCS, ROOT, SOURCE, layer_files, tree

DATA = SOURCE / "training" / "data"
PAGES = ("formulas.md", "functions.md", "rules.md", "sources.md")


def page(name: str) -> str:
    """Read a page of docs/science."""
    return (DOCS / "science" / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_generated_pages_are_fresh(name: str) -> None:
    made = runpy.run_path(str(ROOT / "docs" / "generate.py"))["pages"]()
    assert set(made) == set(PAGES)
    assert made[name] == page(name), "run: .venv/bin/python docs/generate.py"


@pytest.mark.parametrize(
    ("data", "name"),
    [
        ("rules.toml", "rules.md"),
        ("doses.toml", "rules.md"),
        ("formulas.toml", "formulas.md"),
        ("sources.toml", "sources.md"),
    ],
)
def test_every_entry_is_documented(data: str, name: str) -> None:
    entries = tomllib.loads((DATA / data).read_text(encoding="utf-8"))
    text = page(name)
    assert entries
    assert [entry for entry in entries if f"`{entry}`" not in text] == []


def test_every_function_of_science_is_documented() -> None:
    text = page("functions.md")
    wanted = [
        f"`{path.stem}.{node.name}`"
        for path in layer_files("science")
        for node in tree(path).body
        if isinstance(node, ast.FunctionDef) and "_" not in (node.name[0], path.name[0])
    ]
    assert [name for name in wanted if name not in text] == []


def test_every_cited_source_is_listed() -> None:
    sources = set(tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8")))
    cited = {
        (data, source)
        for data in ("rules.toml", "doses.toml", "formulas.toml")
        for entry in tomllib.loads((DATA / data).read_text(encoding="utf-8")).values()
        for part in (entry, *entry.get("numbers", {}).values())
        if (source := part.get("source"))
    }
    assert sorted(item for item in cited if item[1] not in sources) == []


def test_every_source_that_science_names_is_listed() -> None:
    sources = set(tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8")))
    key = re.compile(r"`([a-z]+_?(?:[a-z]+_)?(?:19|20)\d\d[a-z]?)`")
    named = {
        (path.name, name) for path in layer_files("science") for name in key.findall(path.read_text("utf-8"))
    }
    assert sorted(item for item in named if item[1] not in sources) == []
