"""A small writer of SVG: elements in, well-formed text out; numbers short, so that files stay small."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape


@dataclass(frozen=True)
class Element:
    """One element with its attributes and what it holds."""

    name: str
    attributes: tuple[tuple[str, str], ...]
    content: tuple[Element | str, ...]

    def __str__(self) -> str:
        opening = " ".join((self.name, *(f'{key}="{escape(value)}"' for key, value in self.attributes)))
        if not self.content:
            return f"<{opening}/>"
        inner = "".join(
            escape(part, quote=False) if isinstance(part, str) else str(part) for part in self.content
        )
        return f"<{opening}>{inner}</{self.name}>"


def number(value: float) -> str:
    """Write a number with at most two decimals.

    >>> number(12.50), number(-0.001)
    ('12.5', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def element(name: str, *content: Element | str | None, **attributes: str | float | None) -> Element:
    """Make an element; `_` in a name is written `-`, a trailing one is dropped, and what is None is left out.

    >>> str(element("text", "a < b", class_="cap", text_anchor="end", x=1.50, y=None))
    '<text class="cap" text-anchor="end" x="1.5">a &lt; b</text>'
    """
    written = tuple(
        (key.rstrip("_").replace("_", "-"), value if isinstance(value, str) else number(value))
        for key, value in attributes.items()
        if value is not None
    )
    return Element(name, written, tuple(part for part in content if part is not None))
