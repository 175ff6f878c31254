"""Where undo and redo lead: revisions are kept, so undoing brings the one before back as a new one.

Which revisions were themselves an undo or a redo stands in their reasons, in the words below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from speedloom.store.cards import RevisionCard
from speedloom.training.programme import Revision

Way = Literal["undo", "redo"]
REASONS: dict[Way, str] = {"undo": "Undo of revision", "redo": "Redo of revision"}


def ways(newest: Revision) -> dict[str, bool]:
    """Say which buttons a programme's page has, by its newest revision alone."""
    stepped = newest.cause == "restore" and (newest.reason or "").startswith(tuple(REASONS.values()))
    return {"undo": newest.number > 1, "redo": stepped}


@dataclass(frozen=True)
class Step:
    """One step back or on: whose content comes back, which change it undoes or does again, and the reason."""

    back: int
    about: RevisionCard
    reason: str


def steps(revisions: Sequence[RevisionCard]) -> dict[Way, Step]:
    """Say where undo and redo lead; a way that leads nowhere is left out.

    Args:
        revisions: all revisions, newest first.
    """
    past: list[int] = []
    ahead: list[int] = []
    now: int | None = None
    for one in reversed(revisions):
        way = _way(one)
        if way == "undo" and past and now is not None:
            ahead.append(now)
            now = past.pop()
        elif way == "redo" and ahead and now is not None:
            past.append(now)
            now = ahead.pop()
        else:
            if now is not None:
                past.append(now)
            ahead.clear()
            now = one.number
    return _found(revisions, now, past, ahead)


def _way(one: RevisionCard) -> Way | None:
    if one.cause != "restore":
        return None
    return next((way for way, words in REASONS.items() if (one.reason or "").startswith(words)), None)


def _found(
    revisions: Sequence[RevisionCard], now: int | None, past: list[int], ahead: list[int]
) -> dict[Way, Step]:
    by_number = {one.number: one for one in revisions}
    found: dict[Way, Step] = {}
    if past and now is not None:
        found["undo"] = Step(past[-1], by_number[now], f"{REASONS['undo']} {now}")
    if ahead:
        found["redo"] = Step(ahead[-1], by_number[ahead[-1]], f"{REASONS['redo']} {ahead[-1]}")
    return found
