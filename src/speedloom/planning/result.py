"""The finished document: refs and node names, given out once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from typing import Any

from speedloom.planning.athlete_plan import PlannedAthlete, PlannedSession, PlannedWeek
from speedloom.planning.ledger import Ledger, Tag
from speedloom.planning.prescribe import Line, session_minutes
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.exercise import Exercise
from speedloom.training.programme import (
    AthleteProgramme,
    BriefCopy,
    Prescription,
    Programme,
    Revision,
    RulebookStamp,
    Session,
    Unmet,
    Volume,
    Week,
)
from speedloom.training.rule import Rulebook
from speedloom.training.words import METHODS

ENGINE = "speedloom 0.1.0"


def programme_of(
    brief: ResolvedBrief,
    athletes: tuple[PlannedAthlete, ...],
    *,
    rulebook: Rulebook,
    ledger: Ledger,
    profiles: dict[str, str],
) -> Programme:
    """Assemble the document of the first revision."""
    drafts = [_athlete(athlete, profiles.get(athlete.plan.athlete.ref)) for athlete in athletes]
    names, basis = ledger.numbered(tag for draft in drafts for tag in draft.tags())
    unmet = tuple(item for athlete in athletes for item in athlete.unmet)
    brief = brief.model_copy(update={"catalogue": _used(brief, athletes)})
    brief_digest = digest(brief)
    return Programme(
        schema="speedloom.programme/1",
        id=_identity(brief_digest, rulebook),
        revision=Revision(),
        engine=ENGINE,
        seed=brief.seed,
        timezone=brief.timezone,
        rulebook=RulebookStamp(digest=rulebook.digest, changed=rulebook.changed),
        brief=BriefCopy(digest=brief_digest, content=brief),
        programmes=tuple(draft.named(names) for draft in drafts),
        basis=basis,
        unmet=tuple(sorted(unmet, key=_unmet_order)),
    )


def _used(brief: ResolvedBrief, athletes: tuple[PlannedAthlete, ...]) -> tuple[Exercise, ...]:
    """Give the catalogue's entries that the programme names, with those the brief names: it stands alone."""
    used = {exercise.ref: exercise for exercise in brief.catalogue}
    for athlete in athletes:
        for week in athlete.weeks:
            for session in week.sessions:
                lines = (line.draft.exercise for line in session.lines)
                used |= {exercise.ref: exercise for exercise in lines if exercise is not None}
    return tuple(used[ref] for ref in sorted(used))


def _identity(brief_digest: str, rulebook: Rulebook) -> str:
    from hashlib import sha256  # noqa: PLC0415

    return sha256(f"{brief_digest}{rulebook.digest}".encode()).hexdigest()[:12]


def _unmet_order(item: Unmet) -> tuple[str, int, str, str]:
    return (item.athlete, item.week, item.wish, item.method or item.reason or "")


class _Draft:
    """An athlete's programme whose basis still points into the ledger."""

    def __init__(self, programme: AthleteProgramme, basis: list[tuple[Any, dict[str, Tag]]]) -> None:
        self.programme = programme
        self.basis = basis

    def tags(self) -> Iterator[Tag]:
        for _, tags in self.basis:
            yield from tags.values()

    def named(self, names: dict[int, str]) -> AthleteProgramme:
        named = {
            key: {field: names[tag.index] for field, tag in sorted(tags.items())} for key, tags in self.basis
        }
        weeks = tuple(
            week.model_copy(
                update={
                    "basis": named[week.number],
                    "sessions": tuple(_named_session(session, named) for session in week.sessions),
                }
            )
            for week in self.programme.weeks
        )
        return self.programme.model_copy(update={"weeks": weeks})


def _named_session(session: Session, named: dict[Any, dict[str, str]]) -> Session:
    lines = tuple(line.model_copy(update={"basis": named[line.ref]}) for line in session.prescriptions)
    return session.model_copy(update={"basis": named[session.ref], "prescriptions": lines})


def _athlete(planned: PlannedAthlete, profile: str | None) -> _Draft:
    basis: list[tuple[Any, dict[str, Tag]]] = []
    numbers = count(1)
    athlete = planned.plan.athlete.ref
    weeks = tuple(_week(week, athlete, numbers, basis) for week in planned.weeks)
    programme = AthleteProgramme(athlete=athlete, profile=profile, next_ref=next(numbers), weeks=weeks)
    return _Draft(programme, basis)


def _week(
    planned: PlannedWeek, athlete: str, numbers: count[int], basis: list[tuple[Any, dict[str, Tag]]]
) -> Week:
    tags = {"specificity": planned.specificity}
    volumes = {}
    for name, wanted in planned.wanted.items():
        done = planned.planned[name]
        volumes[name] = Volume(wanted=wanted.value, planned=done.value, unit=_unit(name))
        tags |= {f"volumes.{name}": done, f"volumes.{name}.wanted": wanted}
    week = planned.week
    basis.append((week.number, tags))
    return Week(
        number=week.number,
        monday=week.monday,
        mesocycle=week.mesocycle,
        kind=week.kind,
        specificity=planned.specificity.value,
        volumes=volumes,
        sessions=tuple(_session(session, athlete, numbers, basis) for session in planned.sessions),
    )


def _unit(name: str) -> Any:  # noqa: ANN401 - one of three words
    if name == "plyometric":
        return "contacts"
    return (
        "sets" if (name in METHODS and name != "resisted_sprint") or name == "hamstring_groin_calf" else "m"
    )


def _session(
    planned: PlannedSession, athlete: str, numbers: count[int], basis: list[tuple[Any, dict[str, Tag]]]
) -> Session:
    setting = planned.setting
    day = setting.day
    ref = f"{athlete}-{next(numbers)}"
    minutes, total, available = session_minutes(setting, planned.lines)
    basis.append((ref, {"minutes": total, "minutes_available": available}))
    return Session(
        ref=ref,
        date=day.date,
        start=day.slot.start,
        minutes=minutes,
        minutes_available=float(day.slot.minutes),
        slot=day.slot.ref,
        place=day.place.ref,
        role=day.role,
        prescriptions=tuple(_line(line, f"{athlete}-{next(numbers)}", basis) for line in planned.lines),
    )


def _line(line: Line, ref: str, basis: list[tuple[Any, dict[str, Tag]]]) -> Prescription:
    basis.append((ref, {name: tag for name, tag in line.basis.items() if _holds_number(line, name)}))
    return Prescription(ref=ref, **line.fields)


def _holds_number(line: Line, name: str) -> bool:
    value: Any = line.fields
    for step in name.split("."):
        value = value.get(step) if isinstance(value, dict) else getattr(value, step, None)
    return value is not None
