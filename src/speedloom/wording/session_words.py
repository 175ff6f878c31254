"""One athlete's session in plain words, for their own sheet and for the book."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Prescription, Session
from speedloom.wording.clocks import clock_short
from speedloom.wording.dates import clock, day_month
from speedloom.wording.line_words import (
    boxes,
    dose,
    expected,
    load,
    manner,
    ramp_up,
    rests,
    side_words,
    stop_time,
    stop_words,
)
from speedloom.wording.names import METHOD_NAMES, ROLE_NAMES, full_name, place_name
from speedloom.wording.units import METRIC, Units, number, share
from speedloom.wording.warm_ups import own_warm_up


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
    stand: str = ""
    before: str = ""


@dataclass(frozen=True)
class SessionWords:
    """One session of one athlete."""

    title: str
    place: str
    minutes: str
    warm_up: str
    lines: tuple[LineWords, ...]


def session_words(
    session: Session, *, catalogue: Catalogue, person: Athlete | None = None, units: Units = METRIC
) -> SessionWords:
    """Put one session into words; the person's limits in force change the warm-up."""
    place = (place_name(session.place), ROLE_NAMES[session.role])
    return SessionWords(
        title=f"{day_month(session.date)}, {clock(session.start)}",
        place=" · ".join(filter(None, place)),
        minutes=f"{number(session.minutes)} of {number(session.minutes_available)} min",
        warm_up=own_warm_up(session, person, catalogue=catalogue, units=units),
        lines=tuple(
            line_words(line, catalogue=catalogue, units=units)
            for line in session.prescriptions
            if line.purpose == "work"
        ),
    )


def line_words(line: Prescription, *, catalogue: Catalogue, units: Units = METRIC) -> LineWords:
    """Put one line into words."""
    exercise = catalogue.get(line.exercise)
    stop = stop_time(line)
    return LineWords(
        method=METHOD_NAMES[line.method],
        name=full_name(line, catalogue=catalogue),
        dose=" ".join(filter(None, (dose(line, units=units), side_words(line)))),
        manner=manner(line),
        load=load(line, catalogue=catalogue, units=units),
        expect=expected(line),
        stop=f"Stop: two runs over {stop} s" if stop else stop_words(line),
        rest=rests(line),
        cue=line.cue or (exercise.cue if exercise else ""),
        why=why_note(line),
        boxes=boxes(line)[0],
        stand=clock_short(line.expect.clock) if line.expect else "",
        before=ramp_up(line, catalogue=catalogue),
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
