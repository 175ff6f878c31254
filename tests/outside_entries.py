"""Entries of a log written by hand in the shape of the documents: plain JSON, nothing of the product."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from uuid import UUID

Data = dict[str, Any]
EMPTY: Data = {
    "session": None, "line": None, "exercise": None, "replaces": None, "status": "done", "reason": None,
    "timing": None, "clock": None, "behind_m": None, "surface": None, "results": [], "effort": None,
    "minutes": None, "note": "",
}  # fmt: skip
UNMEASURED: Data = {
    "rep": None, "load_kg": None, "distance_m": None, "time_s": None, "reps": None, "rir": None,
    "contacts": None, "mark": None,
}  # fmt: skip


def key(number: int) -> str:
    """Make an id; a larger number is a larger id."""
    return str(UUID(int=number))


def session_of(programme: Data, ref: str) -> tuple[str, Data, Data | None]:
    """Find a session by its own ref or that of a line of it: athlete, session, line."""
    for own in programme["programmes"]:
        for session in (one for week in own["weeks"] for one in week["sessions"]):
            lines = {line["ref"]: line for line in session["prescriptions"]}
            if ref in {session["ref"], *lines}:
                return own["athlete"], session, lines.get(ref)
    raise KeyError(ref)


def about(programme: Data, number: int, ref: str, *results: Data, **more: Any) -> Data:  # noqa: ANN401
    """Make an entry about a line or a session, at eight in the evening of its day."""
    athlete, session, line = session_of(programme, ref)
    day = session["date"]
    return {
        "id": key(number), "at": f"{day}T20:00:00+02:00", "by": "assistant", "athlete": athlete, "date": day,
        "revision": programme["revision"]["number"], **EMPTY, "session": session["ref"],
        "line": line and line["ref"], "exercise": line and line["exercise"], "results": list(results), **more,
    }  # fmt: skip


def runs(count: int, metres: float, **more: Any) -> list[Data]:  # noqa: ANN401
    """Make results of runs of one set."""
    return [{"set": 1, **UNMEASURED, "rep": rep + 1, "distance_m": metres, **more} for rep in range(count)]


def sets(*reps: int, **more: Any) -> list[Data]:  # noqa: ANN401
    """Make results of sets by their repetitions."""
    return [{"set": at + 1, **UNMEASURED, "reps": count, **more} for at, count in enumerate(reps)]


def write_log(path: Path, programme: Data, *entries: Data) -> Path:
    """Write a log of a programme."""
    head = {key: programme[name] for key, name in (("programme", "id"), ("timezone", "timezone"))}
    log = {"schema": "speedloom.log/1", **head, "entries": list(entries)}
    path.write_text(json.dumps(log), encoding="utf-8")
    return path
