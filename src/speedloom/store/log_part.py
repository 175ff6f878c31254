"""A log cut for eyes that health is not for: nothing in it tells who was ill or in pain."""

from __future__ import annotations

from collections.abc import Iterable

from speedloom.store.cards import Actor
from speedloom.store.permissions import within
from speedloom.training.log import Log, LogEntry

HEALTH = frozenset({"pain", "illness"})


def for_eyes(actor: Actor, squad: str, log: Log) -> Log:
    """Give a log as a person may see it: reasons of health and all notes only with `see_health`."""
    return log.model_copy(update={"entries": entries_for_eyes(actor, squad, log.entries)})


def entries_for_eyes(actor: Actor, squad: str, entries: Iterable[LogEntry]) -> tuple[LogEntry, ...]:
    """Give entries as a person may see them: what tells of others' health is cut."""
    reach = within(actor, "see_health", squad=squad)
    return tuple(entry if reach is None or entry.athlete in reach else _cut(entry) for entry in entries)


def _cut(entry: LogEntry) -> LogEntry:
    reason = None if entry.reason in HEALTH else entry.reason
    return entry.model_copy(update={"note": "", "reason": reason})
