"""Reads printed sheets back: text with its place, fonts, tags."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

from pypdf import PageObject, PdfReader


@dataclass(frozen=True)
class PlacedText:
    """A piece of text, its size and where it starts [pt]."""

    text: str
    x: float
    y: float
    size: float


def read(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


def plain(text: str) -> str:
    """Undo line breaks, so that a wrapped name is found."""
    return " ".join(text.split())


def page_texts(content: bytes) -> list[str]:
    return [plain(page.extract_text()) for page in read(content).pages]


def placed_texts(page: PageObject) -> list[PlacedText]:
    found: list[PlacedText] = []

    def visit(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found.append(PlacedText(text.strip(), x, y, abs(size * tm[0] * cm[0])))

    page.extract_text(visitor_text=visit)
    return found


def fonts(content: bytes) -> Iterator[tuple[str, bool]]:
    """Give each font's name and whether its file is inside."""
    seen: set[str] = set()
    for page in read(content).pages:
        for reference in page["/Resources"].get("/Font", {}).values():
            font = reference.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            name = str(font["/BaseFont"])
            descriptor = inner.get("/FontDescriptor", {})
            if name not in seen:
                seen.add(name)
                yield name, any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))


def is_tagged(content: bytes) -> bool:
    """Say whether a document carries its structure for those who do not see it."""
    root = read(content).trailer["/Root"]
    return "/StructTreeRoot" in root and str(root["/MarkInfo"]["/Marked"]) == "True"
