"""What people typed, without the name of somebody who is erased."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

INSTEAD = "(erased)"
TYPED = frozenset({"reason", "cue", "note", "title"})
"""The fields of a document that hold what somebody typed; in all others a word is a ref or another's name."""
SHORTEST = 3
"""Shorter parts of a name are words of their own, such as `de` or `Li` [characters]."""


class Names:
    """The names of one person as others may have typed them: whole, in part, and the short name."""

    def __init__(self, ref: str, name: str) -> None:
        """Take the short name and the full one."""
        parts = {part for part in re.split(r"[\s,]+", name) if len(part) >= SHORTEST}
        exactly = {re.escape(one) for one in {*parts, ref, ref.title()}}
        # A ref goes on in the refs of that person's lines, and a name in its genitive.
        self._exactly = re.compile(rf"(?<![\w-])(?:{'|'.join(_longest(exactly))})(?:-\d+)?(?![\w-])")
        whole = re.escape(" ".join(name.split())).replace(r"\ ", r"\s+")
        self._whole = re.compile(rf"(?<!\w){whole}(?!\w)", re.IGNORECASE) if name.strip() else self._exactly

    def out_of(self, text: str) -> str:
        """Give a text without the names."""
        return self._exactly.sub(INSTEAD, self._whole.sub(INSTEAD, text))

    def perhaps_in(self, text: str) -> bool:
        """Say whether a text holds a name somewhere."""
        return self.out_of(text) != text

    def out_of_content(self, content: Any, *, typed: bool = False) -> Any:  # noqa: ANN401 - whatever JSON holds
        """Give a document's content with the names out of everything that was typed."""
        if isinstance(content, dict):
            return {key: self.out_of_content(one, typed=key in TYPED) for key, one in content.items()}
        if isinstance(content, list):
            return [self.out_of_content(one, typed=typed) for one in content]
        return self.out_of(content) if typed and isinstance(content, str) else content


def _longest(words: Iterable[str]) -> list[str]:
    return sorted(words, key=lambda word: (-len(word), word))
