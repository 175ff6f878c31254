"""What can be typed in the place of a number, a day or a start, and what is wrong with what was typed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, time, timedelta
from math import isfinite
from typing import Any

from speedloom.planning.holding import LINE_NUMBERS, WHOLE
from speedloom.training.programme import Prescription, Session
from speedloom.training.words import COACH_METHODS, IN_SETS, SPRINTS, LineMethod
from speedloom.workflows.log_limits import LIMITS

RUNS = frozenset(SPRINTS)
LIFTS = frozenset(IN_SETS)
OWN = frozenset(COACH_METHODS)
"""The coach's own lines: they hold what the coach says."""
GIVEN: Mapping[str, frozenset[LineMethod]] = {
    "reps_to": LIFTS | {"plyometric"},
    "load_kg": LIFTS | {"resisted_sprint"},
    "added_kg": LIFTS | {"plyometric"},
    "rir": LIFTS,
    "effort": RUNS,
    "hold_s": LIFTS,
    "height_m": frozenset({"plyometric"}),
    "grade": RUNS,
}
"""Numbers that a line without them may be given, and the methods in which they mean something."""
NOT_HERE: Mapping[str, str] = {
    "rest_s": "one set has no rest after it; change the sets first.",
    "rest_reps_s": "there is no rest between its repetitions; change the sets, or the rest between sets.",
    "grade": "its expected time holds on the flat; a hill is a line of its own.",
}
"""What is said of numbers that depend on the rest of the line."""
ALWAYS = frozenset({"sets", "reps", "rest_s"})
MORE_THAN_0 = frozenset({"sets", "reps", "reps_to", "distance_m", "share_1rm", "effort"})
MOST: Mapping[str, float] = {
    "sets": 20,
    "reps": 100,
    "reps_to": 100,
    "distance_m": 400,
    "run_in_m": 100,
    "load_kg": LIMITS["load_kg"].high,
    "added_kg": 100,
    "rir": LIMITS["rir"].high,
    "hold_s": 600,
    "height_m": 3,
    "grade": 1,
    "rest_reps_s": 3600,
    "rest_s": 3600,
}
"""Beyond these a number is a slip of the hand; what is sensible below them the rules say.

Loads and what is left in reserve are bounded as in a log. Distances and repetitions are not: a log tells what
somebody did, which may be a run of 10 km.
"""
_START = re.compile(r"\d{1,2}:\d{2}")


def not_there(line: Prescription, name: str, *, typed: Mapping[str, Any]) -> str:
    """Say why a line has no such number and cannot be given one; empty where it has or can.

    Args:
        line: the line.
        name: the number.
        typed: what else is changed of this line at once.
    """
    if getattr(line, name) is not None or line.method in OWN:
        return ""
    if name in NOT_HERE and _not_here(line, name, typed):
        return NOT_HERE[name]
    if name in NOT_HERE or line.method in GIVEN.get(name, frozenset()):
        return ""
    return f"this line has none; it has {', '.join(one for one in LINE_NUMBERS if _there(line, one))}."


def can_have(method: LineMethod, name: str) -> bool:
    """Say whether a number means something in a line of some kind of work."""
    own = {
        "distance_m": RUNS,
        "run_in_m": frozenset[LineMethod]({"unloaded_sprint"}),
        "rest_reps_s": RUNS | {"plyometric"},
        "share_1rm": LIFTS,
    }
    return method in OWN or name in ALWAYS or method in own.get(name, GIVEN.get(name, frozenset()))


def _not_here(line: Prescription, name: str, typed: Mapping[str, Any]) -> bool:
    if name == "rest_s":
        return not _several(line, "sets", typed)
    runs = line.method in RUNS
    return not runs or (line.expect is not None if name == "grade" else not _several(line, "reps", typed))


def _there(line: Prescription, name: str) -> bool:
    return getattr(line, name) is not None


def _several(line: Prescription, name: str, typed: Mapping[str, Any]) -> bool:
    return _whole(typed.get(name, getattr(line, name))) > 1


def _whole(value: Any) -> float:  # noqa: ANN401 - what was typed
    try:
        return float(str(value).replace(",", "."))
    except ValueError:
        return 0.0


def line_number(name: str, typed: Any) -> float:  # noqa: ANN401 - what was typed
    """Read a line's number as the document holds it.

    Raises:
        ValueError: it is none, or one that cannot be.
    """
    try:
        number = float(str(typed).replace(",", "."))
    except ValueError:
        number = float("nan")
    wanted = _wanted(name, number)
    if wanted:
        typed = f"{typed:g}" if isinstance(typed, float) else typed
        message = (
            f"expected {wanted}, got {typed}{'; 85 % is 0.85' if number > 1 and _is_share(name) else ''}."
        )
        raise ValueError(message)
    return int(number) if name in WHOLE else number


def _wanted(name: str, number: float) -> str:
    """Say what was expected where a number cannot be."""
    lowest = -1.0 if name == "grade" else 0.0
    most = MOST.get(name, 1.0 if _is_share(name) else float("inf"))
    faults = {
        "a number": not isfinite(number),
        "a share from 0 to 1": _is_share(name) and number > 1,
        f"a number not below {lowest:g}": number < lowest,
        "a number above 0": number == 0 and name in MORE_THAN_0,
        f"at most {most:g}{_unit(name)}": number > most,
        "a whole number": name in WHOLE and number % 1 != 0,
    }
    return next((wanted for wanted, wrong in faults.items() if wrong), "")


def _is_share(name: str) -> bool:
    return LINE_NUMBERS[name] == "share"


def _unit(name: str) -> str:
    unit = LINE_NUMBERS[name]
    return f" {unit}" if unit in {"kg", "m", "s"} else ""


def session_time(session: Session, name: str, typed: str, *, frozen: date | None) -> date | time:
    """Read a session's day, of the same week and not over, or its start.

    Raises:
        ValueError: it is none, or another week's, or over.
    """
    if name == "start":
        return _start(typed)
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        message = f"expected a date such as {session.date}, got {typed}."
        raise ValueError(message) from None
    monday = session.date - timedelta(days=session.date.weekday())
    if not monday <= day <= monday + timedelta(days=6):
        message = f"expected a day of the same week ({monday} to {monday + timedelta(days=6)}), got {day}."
        raise ValueError(message)
    if frozen is not None and day <= frozen:
        message = f"expected a day after {frozen}, got {day}; the past is frozen."
        raise ValueError(message)
    return day


def _start(typed: str) -> time:
    try:
        if _START.fullmatch(typed.strip()):
            return time.fromisoformat(typed.strip().zfill(5))
    except ValueError:
        pass
    message = f"expected a time of day such as 18:00, got {typed}."
    raise ValueError(message)


def together(line: Prescription, typed: Mapping[str, Any]) -> str:
    """Say what does not go together in a line with what was typed; empty where all does."""
    reps, most = (typed.get(name, getattr(line, name)) for name in ("reps", "reps_to"))
    if most is not None and most < reps:
        return f"{line.ref}.reps_to: expected at least the {reps} repetitions it begins with, got {most}."
    return ""
