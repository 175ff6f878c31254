"""Invented entries of a log, and the next revision of a programme."""

from __future__ import annotations

import json
from uuid import UUID

from speedloom.training.document import digest
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme, Revision


def next_one(programme: Programme, reason: str = "Sore after the cup") -> Programme:
    """Make the next revision of a programme."""
    revision = Revision(
        number=programme.revision.number + 1, parent=digest(programme), cause="edit", reason=reason
    )
    return programme.model_copy(update={"revision": revision})


def entry(number: int, athlete: str = "mila", **more: object) -> LogEntry:
    """Make a log entry with an id of its own."""
    content = {
        "id": str(UUID(int=number)), "at": "2026-01-12T18:32:10+01:00", "by": "assistant", "revision": 1,
        "athlete": athlete, "session": f"{athlete}-100", "line": None, "date": "2026-01-12", "exercise": None,
        "replaces": None, "status": "done", "reason": None, "timing": None, "clock": None, "behind_m": None,
        "surface": None, "results": [], "effort": 6, "minutes": 70, "note": "", **more,
    }  # fmt: skip
    return LogEntry.model_validate_json(json.dumps(content))
