"""How wide a text is: advances of Source Sans Pro, so that words on a picture fit or are left out."""

from __future__ import annotations

import unicodedata

_REGULAR = {
    200: " ", 241: "|", 246: "ij", 249: "',.:;·’", 255: "l", 263: "I", 289: "!", 292: "f", 303: "()[]{}",
    311: "-", 331: "°", 338: "t", 347: "r", 350: "/\\", 419: "s*", 425: '"?z“”', 446: "x", 456: "c",
    467: "vy", 480: "YJ–", 486: "L", 496: "Fek", 497: "#$+0123456789<=>^~−×±≤≥", 504: "_ag", 515: "VX",
    527: "E", 536: "ST", 544: "Z`oAhu", 555: "nbdpq", 571: "PRC", 588: "KB", 619: "&DG→", 652: "UNH",
    664: "OQ", 727: "wM", 808: "W—½", 829: "%m", 847: "@", 948: "…",
}  # fmt: skip
"""Thousandths of the font's size → the characters that are at most that wide (regular weight)."""
_ADVANCE = {character: width for width, characters in _REGULAR.items() for character in characters}
_UNKNOWN = 850
SEMIBOLD = 1.06
"""How much wider than regular the semibold weight runs, at most, for words (measured on the alphabet)."""
ON_SCREEN = 1.25
"""How much wider than Source Sans a screen's own sans serif may run (the widest in common use)."""


def text_width(text: str, *, size: float, stretch: float = 1.0) -> float:
    """Return the most a text takes in the unit of `size`; letters with marks count as their base letter.

    >>> round(text_width("20 m", size=10.0), 2)
    20.23
    """
    plain = unicodedata.normalize("NFD", text)
    total = sum(_ADVANCE.get(mark, _UNKNOWN) for mark in plain if not unicodedata.combining(mark))
    return total * size * stretch / 1000.0
