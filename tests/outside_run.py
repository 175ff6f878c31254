"""The command line as a coach types it, in this process, and the documents it writes as plain JSON."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from speedloom.cli import main

Data = dict[str, Any]


@dataclass(frozen=True)
class Answer:
    """What a command said: its exit code, what it printed and what it told on the side."""

    code: int
    out: str
    told: str

    @property
    def value(self) -> Any:  # noqa: ANN401 - whatever JSON was printed
        return json.loads(self.out)


def run(*words: object) -> Answer:
    """Run one command."""
    out, told = io.StringIO(), io.StringIO()
    code = 0
    with redirect_stdout(out), redirect_stderr(told):
        try:
            main([str(word) for word in words])
        except SystemExit as ended:
            code = int(ended.code or 0)
    return Answer(code, out.getvalue(), told.getvalue())


def read(path: Path) -> Data:
    """Read a document as it stands in its file."""
    content: Data = json.loads(path.read_text(encoding="utf-8"))
    return content
