"""Log entries made up for tests, as plain values in the shape of DATA.md, and the log they make."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from speedloom.training.log import Log

PLAIN: dict[str, Any] = {
    "at": "2026-01-19T20:00:00+01:00", "by": "assistant-1", "revision": 1, "athlete": "mila",
    "session": "mila-200", "line": None, "date": "2026-01-19", "exercise": None, "replaces": None,
    "status": "done", "reason": None, "timing": None, "clock": None, "behind_m": None, "surface": None,
    "results": [], "effort": None, "minutes": None, "note": "",
}  # fmt: skip
NOTHING: dict[str, Any] = {
    "rep": None, "load_kg": None, "distance_m": None, "time_s": None, "reps": None, "rir": None,
    "contacts": None, "mark": None,
}  # fmt: skip


def key(number: int) -> str:
    """Make the id of an entry from a small number; ids are in the order of numbers."""
    return str(UUID(int=number))


def entry(number: int, **fields: object) -> dict[str, Any]:
    """Make one entry about the small programme's Monday of week 2, or about what the fields say."""
    return {"id": key(number), **PLAIN, **fields}


def result(**fields: object) -> dict[str, Any]:
    """Make one result of an entry."""
    return {"set": 1, **NOTHING, **fields}


def log_of(*entries: dict[str, Any], programme: str = "4f1c2a90b7de") -> Log:
    """Make a log of entries."""
    content = {
        "schema": "speedloom.log/1",
        "programme": programme,
        "timezone": "Europe/Amsterdam",
        "entries": entries,
    }
    return Log.model_validate_json(json.dumps(content))
