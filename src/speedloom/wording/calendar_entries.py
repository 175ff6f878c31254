"""A session as an entry of a calendar: its title, and what is done in a coach's words."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.training.athlete import Athlete
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Session
from speedloom.wording.cautions import is_master, may_be_minor, session_cautions
from speedloom.wording.dates import listing
from speedloom.wording.names import METHOD_NAMES, ROLE_NAMES
from speedloom.wording.session_words import LineWords, session_words
from speedloom.wording.units import METRIC, Units

OFF = "Cancelled"


def entry_title(session: Session, *, name: str = "") -> str:
    """Write an entry's title, such as `Mila Example: heavier day, sprint and plyometric`."""
    methods = dict.fromkeys(line.method for line in session.prescriptions if line.purpose == "work")
    # Its name holds commas, and it stands at the end of nearly every session.
    named = [method for method in methods if method != "hamstring_groin_calf"] or methods
    work = listing(METHOD_NAMES[method].lower() for method in named)
    about = ", ".join(filter(None, (ROLE_NAMES[session.role], work))) or "training"
    return f"{name}: {about}" if name else f"{about[:1].upper()}{about[1:]}"


def entry_text(
    session: Session,
    *,
    catalogue: Catalogue,
    place_kind: str = "",
    person: Athlete | None = None,
    units: Units = METRIC,
) -> str:
    """Write what is done in a session, line by line, and the cautions that belong to it."""
    words = session_words(session, catalogue=catalogue, units=units)
    parts = [words.minutes, f"Warm-up: {words.warm_up}" if words.warm_up else ""]
    parts += [f"{number}. {_line(line)}" for number, line in enumerate(words.lines, start=1)]
    cautions = session_cautions(
        session.prescriptions,
        catalogue=catalogue,
        place_kind=place_kind,
        minors=may_be_minor(person, on=session.date),
        # A calendar is read by many: whether a clinician is named stands on the coach's sheet.
        clinician=True,
        masters=is_master(person, on=session.date),
    )
    return "\n".join([*filter(None, parts), "", *cautions])


def _line(line: LineWords) -> str:
    return f"{line.name}: {'; '.join(_parts(line))}"


def _parts(line: LineWords) -> Iterator[str]:
    yield ", ".join(filter(None, (line.dose, line.load, line.manner)))
    if line.expect:
        yield f"expect {line.expect}"
    if line.rest:
        yield line.rest
    if line.stop:
        yield f"{line.stop[:1].lower()}{line.stop[1:]}"
