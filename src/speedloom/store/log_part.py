"""A log cut for eyes that health is not for: nothing in it tells who was ill or in pain."""

from __future__ import annotations

from speedloom.store.cards import Actor
from speedloom.store.permissions import allowed
from speedloom.training.log import Log

HEALTH = frozenset({"pain", "illness"})


def for_eyes(actor: Actor, squad: str, log: Log) -> Log:
    """Give a log as a person may see it: reasons of health and all notes only with `see_health`."""
    if allowed(actor, "see_health", squad=squad):
        return log
    cut = tuple(
        entry.model_copy(update={"note": "", "reason": None if entry.reason in HEALTH else entry.reason})
        for entry in log.entries
    )
    return log.model_copy(update={"entries": cut})
