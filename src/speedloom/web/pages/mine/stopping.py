"""An athlete stops: written into the log where something is trained today, else a limit alone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from uuid import uuid4

from django.utils import timezone

from speedloom.report.sheets.squad import Attendance, squad_sessions
from speedloom.store.cards import Actor
from speedloom.store.restrictions import set_restriction
from speedloom.store.stops import STOP
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.exercise import Catalogue
from speedloom.web.pages.mine.own import Own
from speedloom.web.pages.session.pen import Pen
from speedloom.web.pages.session.taking import take
from speedloom.wording.names import full_name


def trained_today(one: Own | None, today: date) -> tuple[Attendance, ...]:
    """Give the athlete's sessions of today."""
    if one is None:
        return ()
    those = squad_sessions(one.document, first=today, last=today, athletes=(one.own.athlete,))
    return tuple(each for session in those for each in session.present)


def offered(sessions: tuple[Attendance, ...], *, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """Name the exercises of today that can be stopped."""
    for one in sessions:
        yield from ((line.ref, full_name(line, catalogue=catalogue)) for line in one.work)


def pen_of(actor: Actor, one: Own, nonce: str) -> Pen:
    """Give the athlete a pen: what is written with it is theirs, of this moment."""
    return Pen(actor.login, timezone.now(), one.document.revision.number, nonce)


def stop(
    actor: Actor,
    squad: str,
    one: Own | None,
    sessions: tuple[Attendance, ...],
    *,
    athlete: str,
    line: str,
    note: str,
    today: date,
) -> None:
    """Stop one exercise, or everything: the log says so, and a limit holds until it is lifted."""
    if one is None or not sessions:
        _limit_alone(actor, squad, athlete, today=today)
        return
    pen = pen_of(actor, one, uuid4().hex)
    those = [(each, work) for each in sessions for work in each.work if work.ref == line]
    if those:
        entry = pen.of_line(*those[0], status="stopped", reason="pain", note=note)
    else:
        entry = pen.of_session(sessions[0], status="stopped", reason="pain", note=note)
    take(actor, squad, one.card.id, (entry,))


def _limit_alone(actor: Actor, squad: str, athlete: str, *, today: date) -> None:
    new = Restriction.model_validate(
        {
            "ref": f"{STOP}{uuid4().hex}",
            "limits": (Limit(what="sets", at_most=0),),
            "from": today,
            "set_by": actor.name,
            "set_as": "coach",
            "set_on": today,
        }
    )
    set_restriction(actor, squad, athlete, new)
