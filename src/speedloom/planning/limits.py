"""Restrictions that hold for a session as a whole: its sets, contacts or minutes of some kind."""

from __future__ import annotations

from math import ceil

from speedloom.planning.draft import Draft
from speedloom.training.athlete import Limit

SUMMED = frozenset({"sets", "contacts", "minutes"})
UNITS = 2  # minutes and one side's contacts come in halves


def whole_session(limit: Limit) -> bool:
    """Say whether a limit is on the session's minutes, whatever is done in them."""
    narrowed = (limit.method, limit.exercise, limit.tag, limit.side)
    return limit.what == "minutes" and all(part is None for part in narrowed)


def adds_up(limit: Limit, draft: Draft) -> bool:
    """Say whether a line counts against a limit on a sum."""
    if limit.what not in SUMMED or whole_session(limit) or draft.purpose != "work":
        return False
    tags = draft.exercise.tags if draft.exercise else ()
    return (
        limit.method in {None, draft.method}
        and limit.exercise in {None, draft.exercise_ref}
        and (limit.tag is None or limit.tag in tags)
        and (limit.side is None or draft.fields.get("side", "both") in {"both", "each", limit.side})
    )


def amount(limit: Limit, draft: Draft, count: int) -> int:
    """Give what a count of a line adds to a limit's sum, in half units."""
    if count == 0:
        return 0
    if limit.what == "minutes":
        return ceil(UNITS * draft.minutes_for(count))
    if limit.what == "sets":
        return UNITS * (1 if draft.counted == "reps" else count)
    each = draft.fields.get("side") == "each"
    sides = 2 if each and limit.side is None else 1
    a_set = float(draft.other.value) * (draft.exercise.contacts_per_rep if draft.exercise else 0) * sides
    return ceil(UNITS * max(count * a_set, draft.fields.get("contacts") or 0))
