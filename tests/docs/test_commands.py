"""Every command and option is documented, and the docs name no other (HOUSE: habit 11)."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import typer
from typer.core import TyperGroup

from house import DOCS, ROOT
from speedloom.cli import app

PAGES = [ROOT / "README.md", *sorted(DOCS.rglob("*.md"))]
BLOCK = re.compile(r"^```\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def options() -> Mapping[str, set[str]]:
    """Read the long options of every command off the command line itself."""
    group = typer.main.get_command(app)
    assert isinstance(group, TyperGroup)
    return {
        name: {option for part in _parts(command) for option in part.opts if option.startswith("--")}
        for name, command in group.commands.items()
    }


def _parts(command: Any) -> list[Any]:  # noqa: ANN401 — a command or a group of them
    """List the options of a command, or of all the commands under it."""
    under = command.commands.values() if isinstance(command, TyperGroup) else ()
    return [*command.params, *(part for one in under for part in one.params)]


def shown_commands(page: Path) -> set[str]:
    """List the words after `speedloom` at the start of a line in a block of a page."""
    blocks = BLOCK.findall(page.read_text(encoding="utf-8"))
    return {word for block in blocks for word in re.findall(r"^speedloom (\w+)", block, re.MULTILINE)}


def test_every_command_is_documented() -> None:
    documented = set[str]().union(*(shown_commands(page) for page in PAGES))
    assert set(options()) - documented == set()


def test_every_option_is_documented_with_its_command() -> None:
    texts = {page: page.read_text(encoding="utf-8") for page in PAGES}
    missing = [
        f"speedloom {name} {option}"
        for name, wanted in options().items()
        for option in sorted(wanted)
        if not any(option in text for page, text in texts.items() if name in shown_commands(page))
    ]
    assert missing == []


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_the_docs_name_no_other_command(page: Path) -> None:
    assert shown_commands(page) - set(options()) == set()
