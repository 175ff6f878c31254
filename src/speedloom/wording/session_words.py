"""One athlete's session in plain words, for their own sheet and for the book."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Session
from speedloom.wording.dates import clock, day_month
from speedloom.wording.line_words import (
    boxes,
    dose,
    expected,
    load,
    manner,
    rests,
    side_words,
    stop_time,
    stop_words,
)
from speedloom.wording.names import METHOD_NAMES, ROLE_NAMES, exercise_name, line_name, place_name
from speedloom.wording.units import METRIC, Units, number, share


@dataclass(frozen=True)
class LineWords:
    """One exercise of one athlete."""

    method: str
    name: str
    dose: str
    manner: str
    load: str
    expect: str
    stop: str
    rest: str
    cue: str
    why: str
    boxes: int


@dataclass(frozen=True)
class SessionWords:
    """One session of one athlete."""

    title: str
    place: str
    minutes: str
    warm_up: str
    lines: tuple[LineWords, ...]


def session_words(session: Session, *, catalogue: Catalogue, units: Units = METRIC) -> SessionWords:
    """Put one session into words."""
    ready = [line for line in session.prescriptions if line.purpose != "work"]
    place = (place_name(session.place), ROLE_NAMES[session.role])
    return SessionWords(
        title=f"{day_month(session.date)}, {clock(session.start)}",
        place=" · ".join(filter(None, place)),
        minutes=f"{number(session.minutes)} of {number(session.minutes_available)} min",
        warm_up=_warm_up(ready, catalogue=catalogue, units=units),
        lines=tuple(
            line_words(line, catalogue=catalogue, units=units)
            for line in session.prescriptions
            if line.purpose == "work"
        ),
    )


def _warm_up(ready: list[Prescription], *, catalogue: Catalogue, units: Units) -> str:
    minutes = sum(line.minutes for line in ready)
    names = [
        f"build-ups {dose(line, units=units)}"
        if line.purpose == "build_up"
        else line_name(line, catalogue=catalogue)
        for line in ready
    ]
    return f"{', '.join(names)} ({number(minutes)} min)" if ready else ""


def line_words(line: Prescription, *, catalogue: Catalogue, units: Units = METRIC) -> LineWords:
    """Put one line into words."""
    exercise = catalogue.get(line.exercise)
    stop = stop_time(line)
    known = exercise is not None and line.exercise != "own_line"
    return LineWords(
        method=METHOD_NAMES[line.method],
        name=exercise_name(line.exercise, catalogue=catalogue)
        if known
        else line_name(line, catalogue=catalogue),
        dose=" ".join(filter(None, (dose(line, units=units), side_words(line)))),
        manner=manner(line),
        load=load(line, catalogue=catalogue, units=units),
        expect=expected(line),
        stop=f"Stop: two runs over {stop} s" if stop else stop_words(line),
        rest=rests(line),
        cue=line.cue or (exercise.cue if exercise else ""),
        why=why_note(line),
        boxes=boxes(line)[0],
    )


def why_note(line: Prescription) -> str:
    """Write in a few words what a line's load or distance rests on; the whole derivation is behind `why`."""
    fast = line.expect.share_vmax if line.expect and not line.load_kg else None
    notes = (
        f"{_rough(line.decrement)} slower than without" if line.decrement and line.load_kg else "",
        f"{_rough(line.share_1rm)} of 1RM" if line.share_1rm else "",
        f"reaches {_rough(fast)} of top speed" if fast else "",
        f"{line.contacts} contacts" if line.contacts else "",
    )
    return " · ".join(filter(None, notes))


def _rough(value: float) -> str:
    return share(round(value, 2))
