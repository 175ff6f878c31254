"""Make the pages of docs/science that are read off the code and the packaged rulebook.

`.venv/bin/python docs/generate.py` writes them; a test compares them with what this file makes.
"""

from __future__ import annotations

import ast
import inspect
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from speedloom.training.rule import Rule, RuleNumber, Source, load_rulebook

SCIENCE = Path(__file__).resolve().parent / "science"
PACKAGE = SCIENCE.parent.parent / "src" / "speedloom"
MADE = "<!-- made by docs/generate.py, do not edit -->\n"


def signature(node: ast.FunctionDef, *, module: str) -> str:
    """Write one function: its arguments and its docstring, with the example."""
    text, _, example = inspect.cleandoc(ast.get_docstring(node) or "").partition(">>>")
    shown = f"\n```python\n>>>{example}\n```\n" if example else ""
    return f"### `{module}.{node.name}`\n\n`{node.name}({ast.unparse(node.args)})`\n\n{text.strip()}\n{shown}"


def functions() -> str:
    """Write the page of the functions of science, a section a module."""
    parts = [MADE, "# Functions of `speedloom.science`\n"]
    for path in sorted((PACKAGE / "science").rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        public = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"]
        if public and path.name[0] != "_":
            name = path.relative_to(PACKAGE / "science").with_suffix("").as_posix()
            parts.append(f"## {name}\n\n{ast.get_docstring(tree) or ''}\n")
            parts += [signature(node, module=path.stem) for node in public]
    return "\n".join(parts)


def formula_lines(name: str, formula: Mapping[str, Any]) -> Iterator[str]:
    """Write one formula as the basis of a number cites it."""
    yield f"### `{name}`\n\n{formula['says'][:1].upper()}{formula['says'][1:]}.\n"
    yield f"```\n{formula['equation']}\n```\n"
    arguments = ", ".join(f"`{argument}` [{unit}]" for argument, unit in formula["arguments"].items())
    yield f"From {arguments or 'nothing'}. {linked(formula.get('source'))}, {formula['mark']}.\n"


def formulas() -> str:
    """Write the page of the formulas that a basis names."""
    entries = tomllib.loads((PACKAGE / "training" / "data" / "formulas.toml").read_text(encoding="utf-8"))
    lines = [line for name, formula in entries.items() for line in formula_lines(name, formula)]
    return "\n".join([MADE, "# Formulas\n", "Every number of a programme names one of these.\n", *lines])


def linked(source: str | None) -> str:
    """Write a source as a link to its entry."""
    return f"Source [{source}](sources.md#{source})" if source else "No source"


def cell(value: object) -> str:
    """Write a value so that it cannot break a table."""
    return str("" if value is None else value).replace("|", "\\|").replace("\n", " ")


def number_row(name: str, number: RuleNumber, *, rule: Rule) -> str:
    """Write one number of a rule with its source and mark, its own or the rule's."""
    weight, source, mark = (
        number.weight or rule.weight,
        number.source or rule.source,
        number.mark or rule.mark,
    )
    cells = (f"`{name}`", f"{number.value:g}", number.unit, weight, source, mark, number.note)
    return "| " + " | ".join(cell(value) for value in cells) + " |"


def rule_lines(rule: Rule) -> Iterator[str]:
    """Write one rule: statement, weight, for whom, source, numbers."""
    yield f"### `{rule.id}`\n\n{rule.statement}\n"
    whom = f" For {rule.population}." if rule.population else ""
    yield f"{rule.weight.capitalize()}. {linked(rule.source)}, {rule.mark}.{whom}\n"
    if rule.conflict:
        yield f"Conflict: {rule.conflict}\n"
    if rule.numbers:
        yield "| number | value | unit | weight | source | mark | note |\n|---|---|---|---|---|---|---|"
        yield "\n".join(number_row(name, number, rule=rule) for name, number in rule.numbers.items()) + "\n"


def rules() -> str:
    """Write the page of rules and default doses."""
    book = load_rulebook()
    parts = [MADE, "# Rules and default doses\n"]
    kinds = {
        "rule": "Rules",
        "conduct": "Rules kept on the field or by the tool itself",
        "dose": "Default doses",
    }
    for kind, title in kinds.items():
        parts.append(f"## {title}\n")
        parts += [line for rule in book.rules if rule.kind == kind for line in rule_lines(rule)]
    return "\n".join(parts)


def source_lines(source: Source) -> str:
    """Write one source: who, when, what, where, on whom."""
    head = ", ".join(str(part) for part in (source.authors, source.year, source.title, source.where) if part)
    doi = f" doi:{source.doi}." if source.doi else ""
    whom = f"\n\nMeasured on: {source.population}." if source.population else ""
    return f'### <a id="{source.ref}"></a>`{source.ref}`\n\n{head.rstrip(".")}.{doi}{whom}\n'


def sources() -> str:
    """Write the page of sources."""
    return "\n".join([MADE, "# Sources\n", *(source_lines(source) for source in load_rulebook().sources)])


def pages() -> dict[str, str]:
    """Make every generated page, by its name in docs/science."""
    return {
        "formulas.md": formulas(),
        "functions.md": functions(),
        "rules.md": rules(),
        "sources.md": sources(),
    }


if __name__ == "__main__":
    for page, text in pages().items():
        (SCIENCE / page).write_text(text, encoding="utf-8")
