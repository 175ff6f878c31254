"""What several people wrote of the same repetition: both are kept, and one is chosen by a new entry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from speedloom.training.log import LogEntry, Result
from speedloom.workflows.logged_runs import gates_of
from speedloom.workflows.standing_log import MEASURED

Place = tuple[str, str, str, int, int]
"""Athlete, line or "", exercise where there is no line, set, repetition (0 for a whole set)."""


@dataclass(frozen=True)
class Account:
    """What one entry says of one repetition or set."""

    place: Place
    entry: LogEntry
    result: Result


@dataclass(frozen=True)
class TwoAccounts:
    """One repetition or set of which entries that nobody replaced say different things, oldest first."""

    place: Place
    accounts: tuple[Account, ...]


def last_entries(entries: Iterable[LogEntry]) -> tuple[LogEntry, ...]:
    """Give the entries that no other replaced, each once, in their order.

    Two corrections of one entry are both given: which of them is right only people know.
    """
    once = {entry.id: entry for entry in entries}
    replaced = {entry.replaces for entry in once.values() if entry.replaces != entry.id}
    return tuple(sorted((one for one in once.values() if one.id not in replaced), key=lambda one: one.order))


def accounts(entries: Iterable[LogEntry]) -> dict[Place, tuple[Account, ...]]:
    """Give what is said of every repetition and set, the last word last."""
    found: dict[Place, list[Account]] = {}
    for entry in last_entries(entries):
        for result in entry.results:
            place = place_of(entry, result)
            found.setdefault(place, []).append(Account(place, entry, result))
    return {place: tuple(said) for place, said in found.items()}


def place_of(entry: LogEntry, result: Result) -> Place:
    """Say which repetition or set a result is of."""
    exercise = "" if entry.line else entry.exercise or ""
    return (entry.athlete, entry.line or "", exercise, result.set, result.rep or 0)


def differing(entries: Iterable[LogEntry]) -> tuple[TwoAccounts, ...]:
    """Find the repetitions and sets of which two values stand that do not go together.

    One that only says that it was done goes together with one that measured something, and so do the gates
    of one run.
    """
    return tuple(
        TwoAccounts(place, said)
        for place, said in accounts(entries).items()
        if _differ(said) and not gates_of([one.result for one in said])
    )


def _differ(said: Sequence[Account]) -> bool:
    return any(
        len({value for one in said if (value := getattr(one.result, name)) is not None}) > 1
        for name in MEASURED
    )


def chosen(two: TwoAccounts, entry: str, *, by: str, at: datetime, ids: Iterable[str]) -> Iterator[LogEntry]:
    """Write for every other account a new entry that replaces it and says what the chosen one says.

    Args:
        two: the accounts that differ.
        entry: the id of the entry whose value is right.
        by: who chose.
        at: when; what is replaced was written before, or a moment later is taken.
        ids: an id for each new entry, the same for the same choice.

    Raises:
        KeyError: no account is of such an entry.
    """
    right = {one.entry.id: one for one in two.accounts}[entry]
    others = [one for one in two.accounts if one.entry.id != entry]
    latest = max((at, *(one.entry.at + timedelta(milliseconds=1) for one in two.accounts)))
    for other, key in zip(others, ids, strict=False):
        # The last of one account stands alone: what else the right one says has to stand in it as well.
        base = right if other.entry.replaces and other.entry.replaces == right.entry.replaces else other
        kept = [one for one in base.entry.results if place_of(base.entry, one) != two.place]
        results = (*kept, right.result)
        yield other.entry.model_copy(
            update={
                "id": key,
                "at": latest,
                "by": by,
                "replaces": other.entry.id,
                "results": tuple(sorted(results, key=lambda one: (one.set, one.rep or 0))),
                "timing": right.entry.timing,
                "clock": right.entry.clock,
                "behind_m": right.entry.behind_m,
            }
        )
