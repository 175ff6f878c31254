"""Text that a spreadsheet would run as a formula, made harmless, and read back as it was."""

from __future__ import annotations

# A tab, a line break and the wide signs of East Asian keyboards lead into a formula as well.
_SIGNS = frozenset("=+-@\t\r\n＝＋－＠")  # noqa: RUF001 — the wide signs are what is meant
_GUARD = "'"


def guarded(text: str) -> str:
    """Put an apostrophe before text that begins like a formula.

    >>> guarded("=HYPERLINK(1)"), guarded("sled, -5 kg")
    ("'=HYPERLINK(1)", 'sled, -5 kg')
    """
    return f"{_GUARD}{text}" if (text != "" and text[0] in _SIGNS) or _is_guarded(text) else text


def unguarded(text: str) -> str:
    """Take the apostrophe away again.

    >>> unguarded("'=HYPERLINK(1)"), unguarded("'n beetjie")
    ('=HYPERLINK(1)', "'n beetjie")
    """
    return text[1:] if _is_guarded(text) else text


def _is_guarded(text: str) -> bool:
    """Say whether apostrophes and then a sign of a formula begin the text."""
    bare = text.lstrip(_GUARD)
    return text[:1] == _GUARD and bare != "" and bare[0] in _SIGNS
