"""Every sentence an athlete may see, gathered from the modules that write for athletes.

`.venv/bin/python docs/athlete_words.py` writes docs/reference/athlete-words.md; a test compares them, and
another bans blame, promises and words of risk. Roots are what an athlete is handed: the athlete's and the
session sheet, the retest page, the calendar. What they import of the wording comes with them, and so do the
exercises with their cues, the warm-ups and the paper's own words.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "speedloom"
PAGE = Path(__file__).resolve().parent / "reference" / "athlete-words.md"
MADE = "<!-- made by docs/athlete_words.py, do not edit -->\n"
ROOTS = ("report/sheets/*athlete*.py", "report/sheets/session_sheet.py", "wording/calendar_entries.py")
WRITERS = ("speedloom.wording.", "speedloom.report.sheets.")
SENTENCE = re.compile(r"[A-Za-z]{2,}[^A-Za-z]* [^A-Za-z]*[A-Za-z]{2,}")
MESSAGE = re.compile(r"Expected |the text `")
"""What is said to the coach who prints, when something is wrong."""
PAPER = re.compile(r"\[(\*?[A-Z][^\[\]#\n{}=]* [^\[\]#\n{}=]*)\]|\"([A-Z][^\"\n{}=()]* [^\"\n{}=()]*)\"")
"""Words in the templates of the paper: content in brackets, and strings."""
FIELD = "{…}"


def modules() -> list[Path]:
    """Give the modules that write for athletes: the roots, and what they import of wording and sheets."""
    found: dict[Path, None] = {}
    waiting = [path for pattern in ROOTS for path in sorted(PACKAGE.glob(pattern))]
    waiting += sorted(PACKAGE.glob("wording/athlete_*.py"))
    while waiting:
        path = waiting.pop(0)
        if path not in found:
            found[path] = None
            waiting += imported(path)
    return sorted(found)


def imported(path: Path) -> list[Path]:
    """Give the writing modules that a module imports."""
    names = [
        node.module
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith(WRITERS)
    ]
    return [PACKAGE.joinpath(*name.split(".")[1:]).with_suffix(".py") for name in names]


def sentences(path: Path) -> list[str]:
    """Give the texts of a module in order: what has two words, without docstrings and messages of errors."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    skipped = {id(part) for node in ast.walk(tree) for part in _not_shown(node)}
    texts = dict.fromkeys(_texts(tree, skipped))
    return [text for text in texts if SENTENCE.search(text.replace(FIELD, "")) and not MESSAGE.match(text)]


def _not_shown(node: ast.AST) -> Iterator[ast.AST]:
    """Docstrings, and what is raised or annotated."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        yield node.value
    if isinstance(node, (ast.Raise, ast.ImportFrom)):
        yield from ast.walk(node)
    annotation = getattr(node, "annotation", None) or getattr(node, "returns", None)
    if annotation is not None:
        yield from ast.walk(annotation)


def _texts(node: ast.AST, skipped: set[int]) -> Iterator[str]:
    if id(node) in skipped:
        return
    if isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else FIELD for part in node.values)
        for part in node.values:
            if isinstance(part, ast.FormattedValue):
                yield from _texts(part.value, skipped)
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    for child in ast.iter_child_nodes(node):
        yield from _texts(child, skipped)


def data_sentences() -> Iterator[tuple[str, list[str]]]:
    """Give the texts of exercises and warm-ups: names and cues."""
    exercises = tomllib.loads((PACKAGE / "training/data/exercises.toml").read_text(encoding="utf-8"))
    yield (
        "training/data/exercises.toml",
        [f"{entry.get('name', ref)}: {entry['cue']}" for ref, entry in exercises.items() if entry.get("cue")],
    )
    warm_ups = tomllib.loads((PACKAGE / "training/data/warm_ups.toml").read_text(encoding="utf-8"))
    steps = [step for entry in warm_ups.values() for step in entry.get("steps", [])]
    for path in sorted(PACKAGE.glob("report/sheets/templates/*.typ")):
        words = [one or other for one, other in PAPER.findall(path.read_text(encoding="utf-8"))]
        yield path.relative_to(PACKAGE).as_posix(), list(dict.fromkeys(words))
    yield "training/data/warm_ups.toml", list(dict.fromkeys(f"{one['what']}: {one['cue']}" for one in steps))


def everything() -> dict[str, list[str]]:
    """Give every text by the file it stands in."""
    found = {path.relative_to(PACKAGE).as_posix(): sentences(path) for path in modules()}
    return {name: texts for name, texts in (found | dict(data_sentences())).items() if texts}


def page() -> str:
    """Write the page."""
    parts = [
        MADE,
        "# What an athlete may read\n",
        "Every text of what is handed to athletes, by the file it stands in; {…} is a name or a number.\n",
    ]
    for name, texts in everything().items():
        parts.append(f"## {name}\n")
        parts += [f"- {' '.join(text.split())}" for text in texts]
        parts.append("")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
