"""Paper: fills a template with data and gives a tagged PDF, the same bytes for the same data."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from contextlib import ExitStack
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime, time
from functools import cache
from importlib.resources import as_file, files
from threading import Lock
from typing import TYPE_CHECKING, Literal

from speedloom.errors import UnprintableTextError

if TYPE_CHECKING:
    import typst
    from _typeshed import DataclassInstance

PaperSize = Literal["a4", "us-letter"]
POINTS_PER_MM = 72.0 / 25.4
_WIDTH_MM: Mapping[PaperSize, tuple[float, float]] = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}
MARGIN_MM = 10.0


@dataclass(frozen=True)
class Paper:
    """The paper to print on and the date that stands on it (the core knows no clock)."""

    printed: date
    size: PaperSize = "a4"
    clinician: bool = False
    """Whether somebody beside the document is known as the squad's clinician."""

    def text_width(self, *, landscape: bool) -> float:
        """Give the width between the margins [pt]."""
        short, long = _WIDTH_MM[self.size]
        return ((long if landscape else short) - 2.0 * MARGIN_MM) * POINTS_PER_MM


def pdf(template: str, data: DataclassInstance, *, paper: Paper) -> bytes:
    """Fill a packaged template (`<template>.typ`) with a dataclass and return a PDF.

    Raises:
        UnprintableTextError: a sign that neither the packaged fonts nor those of this computer have.
    """
    content = json.dumps({"paper": paper.size, "data": asdict(data)}, ensure_ascii=False, default=str)
    # One compiler serves all threads of a site, and keeps its inputs: one sheet at a time.
    with _ONE_AT_A_TIME:
        try:
            return _printed(_compiler(template), template, content, day=paper.printed)
        except UnprintableTextError:
            # A name our fonts cannot write: whatever fonts this computer has may help.
            return _printed(_compiler(template, fonts="all"), template, content, day=paper.printed)


def _printed(compiler: typst.Compiler, template: str, content: str, *, day: date) -> bytes:
    import typst

    try:
        made = compiler.compile(
            sys_inputs={"content": content},
            format="pdf",
            # The document says when it was made; noon, so that no time zone moves it to another day.
            timestamp=datetime.combine(day, time(12), UTC),
            pdf_standards=["ua-1"],
        )
    except typst.TypstError as error:
        sign = _NO_FONT.search(str(error))
        if sign is None:
            raise
        msg = (
            f"Expected text that the fonts can print, got {sign[1]} in a name, title or cue; "
            "write it in other letters, or install a font that has it, and print again."
        )
        raise UnprintableTextError(msg) from error
    if not isinstance(made, bytes):
        msg = f"Expected one PDF from {template}.typ, got {type(made).__name__}"
        raise TypeError(msg)
    return made


@cache
def _compiler(template: str, *, fonts: Literal["packaged", "all"] = "packaged") -> typst.Compiler:
    import typst

    # Open for as long as the process lives: the templates may come out of an archive.
    folder = _LASTING.enter_context(as_file(files("speedloom.report.sheets").joinpath("templates")))
    packaged = _LASTING.enter_context(as_file(files("font_source_sans_pro").joinpath("files")))
    return typst.Compiler(
        str(folder / f"{template}.typ"),
        root=str(folder),
        font_paths=[str(packaged)],
        ignore_system_fonts=fonts == "packaged",
    )


_NO_FONT = re.compile(r"the text `(\".*?\")` could not be displayed with font")
_LASTING = ExitStack()
_ONE_AT_A_TIME = Lock()
