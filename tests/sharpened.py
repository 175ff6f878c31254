"""A planned squad and what is written down about single lines of it, for tests of proposals."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from json import dumps
from typing import Any
from uuid import NAMESPACE_OID, uuid5

from briefs import EXAMPLES, planned
from simulated_logs import NOTHING
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.programme import Prescription, Programme, Session, Week
from speedloom.training.rule import load_rulebook
from speedloom.workflows.sharpen import proposals
from speedloom.workflows.sharpen_proposal import Proposal

Data = dict[str, Any]
SQUAD = planned(EXAMPLES / "spring_build.toml")
CLOCK: Data = {"timing": "gates", "clock": "behind", "behind_m": 0.5}
ON = date(2026, 2, 8)


def _brief() -> ResolvedBrief:
    assert SQUAD.brief.content is not None
    return SQUAD.brief.content


BRIEF = _brief()


def lines(
    athlete: str, exercise: str, programme: Programme = SQUAD
) -> Iterator[tuple[Week, Session, Prescription]]:
    """Give an athlete's lines of an exercise, in order."""
    for own in programme.programmes:
        for week in own.weeks if own.athlete == athlete else ():
            for session in week.sessions:
                yield from ((week, session, one) for one in session.prescriptions if one.exercise == exercise)


def entry(athlete: str, session: Session, line: Prescription, results: list[Data], **fields: object) -> Data:
    """Write down one line."""
    plain: Data = {
        "id": str(uuid5(NAMESPACE_OID, f"{line.ref}/{dumps(results)}")), "by": "assistant-1", "revision": 1,
        "at": f"{session.date}T21:00:00+01:00", "athlete": athlete, "session": session.ref, "line": line.ref,
        "date": str(session.date), "exercise": line.exercise, "replaces": None, "status": "done",
        "reason": None,
        "timing": None, "clock": None, "behind_m": None, "surface": line.surface, "effort": None,
        "minutes": None, "note": "",
        "results": [{"set": number, **NOTHING, **one} for number, one in enumerate(results, start=1)],
    }  # fmt: skip
    return plain | fields


def log(*entries: Data) -> Log:
    """Make a log of the squad's programme."""
    content = {"schema": "speedloom.log/1", "programme": SQUAD.id, "timezone": SQUAD.timezone}
    return Log.model_validate_json(dumps({**content, "entries": entries}))


def proposed(*entries: Data, on: date = ON) -> tuple[Proposal, ...]:
    """Propose from entries about the squad's programme."""
    return proposals(SQUAD, log(*entries), on=on, rulebook=load_rulebook(), catalogue=load_catalogue())


def lifted(athlete: str, exercise: str, done: list[Data | None]) -> list[Data]:
    """Write down sets like each of these for the lines of an exercise in turn; None: nothing."""
    told = zip(lines(athlete, exercise), done, strict=False)
    return [
        entry(athlete, session, line, [{"load_kg": line.load_kg, "reps": line.reps, **one}] * line.sets)
        for (_, session, line), one in told
        if one is not None
    ]
