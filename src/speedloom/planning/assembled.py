"""An athlete's finished weeks, whose basis still points into the ledger; refs are given out here, once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from speedloom.planning.athlete_plan import PlannedAthlete, PlannedSession, PlannedWeek
from speedloom.planning.keeping import holds_number, matched, numbered, old_lines
from speedloom.planning.ledger import Ledger, Tag
from speedloom.planning.past import OUT, Past, refs_of, unit_of
from speedloom.planning.prescribe import Line, session_minutes
from speedloom.training.programme import AthleteProgramme, Prescription, Session, Volume, Week

Tags = dict[str, Tag]
HAND_SET = ("date", "start")


@dataclass
class _Assembly:
    """Weeks under way: the nodes of each week, session and line, by number or ref."""

    athlete: str
    ledger: Ledger
    next_ref: int = 1
    nodes: dict[int | str, Tags] = field(default_factory=dict)

    def new_ref(self) -> str:
        """Give out a ref that nothing had before."""
        ref = f"{self.athlete}-{self.next_ref}"
        self.next_ref += 1
        return ref

    def as_it_stood(self, week: Week) -> Week:
        """Take over a week of an earlier revision."""
        self.nodes[week.number] = self._named(week.basis)
        for session in week.sessions:
            self.take_over(session)
        return week

    def take_over(self, session: Session) -> Session:
        """Take over a session of an earlier revision."""
        self.nodes[session.ref] = self._named(session.basis)
        for line in session.prescriptions:
            self.nodes[line.ref] = self._named(line.basis)
        return session

    def taken_out(self, basis: Mapping[str, str]) -> Tags:
        """Take over what says that the coach has taken something out."""
        return self._named({name: node for name, node in basis.items() if name.startswith(OUT)})

    def _named(self, basis: Mapping[str, str]) -> Tags:
        return {name: self.ledger.named(node) for name, node in basis.items()}


@dataclass(frozen=True)
class AthleteDraft:
    """An athlete's programme whose basis still points into the ledger."""

    programme: AthleteProgramme
    nodes: Mapping[int | str, Tags]

    def tags(self) -> Iterator[Tag]:
        """Give every node in the order of its first use."""
        for tags in self.nodes.values():
            yield from tags.values()

    def named(self, names: Mapping[int, str]) -> AthleteProgramme:
        """Give the programme with the names of its nodes."""
        named = {
            key: {name: names[tag.index] for name, tag in sorted(tags.items())}
            for key, tags in self.nodes.items()
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


def _named_session(session: Session, named: Mapping[Any, dict[str, str]]) -> Session:
    lines = tuple(line.model_copy(update={"basis": named[line.ref]}) for line in session.prescriptions)
    return session.model_copy(update={"basis": named[session.ref], "prescriptions": lines})


def assembled(planned: PlannedAthlete, profile: str | None) -> AthleteDraft:
    """Assemble an athlete's weeks; what an earlier revision had keeps its refs, what is gone retires them."""
    plan = planned.plan
    before = plan.past.programme if plan.past else None
    made = _Assembly(plan.athlete.ref, plan.ledger, before.next_ref if before else 1)
    weeks = tuple(_week(week, made, plan.past) for week in planned.weeks)
    programme = AthleteProgramme(
        athlete=plan.athlete.ref,
        profile=profile,
        next_ref=made.next_ref,
        retired=_retired(before, weeks),
        weeks=weeks,
    )
    return AthleteDraft(programme, made.nodes)


def standing(own: AthleteProgramme, ledger: Ledger) -> AthleteDraft:
    """Take over an athlete's weeks of an earlier revision as they are."""
    made = _Assembly(own.athlete, ledger, own.next_ref)
    for week in own.weeks:
        made.as_it_stood(week)
    return AthleteDraft(own, made.nodes)


def _retired(before: AthleteProgramme | None, weeks: tuple[Week, ...]) -> tuple[str, ...]:
    if before is None:
        return ()
    kept = set(refs_of(weeks))
    return (*before.retired, *(ref for ref in refs_of(before.weeks) if ref not in kept))


def _week(planned: PlannedWeek, made: _Assembly, past: Past | None) -> Week:
    if planned.standing is not None:
        return made.as_it_stood(planned.standing)
    tags = {"specificity": planned.specificity}
    volumes = {}
    for name, wanted in planned.wanted.items():
        done = planned.planned[name]
        volumes[name] = Volume(wanted=wanted.value, planned=done.value, unit=unit_of(name))
        tags |= {f"volumes.{name}": done, f"volumes.{name}.wanted": wanted}
    week = planned.week
    old_week = past.weeks.get(week.number) if past else None
    tags |= made.taken_out(old_week.basis if old_week else {})
    made.nodes[week.number] = tags
    frozen = tuple(made.take_over(session) for session in planned.frozen)
    ahead = [one for one in (past.ahead(week.number) if past else ()) if one not in planned.frozen]
    olds = matched([session.setting.day for session in planned.sessions], ahead)
    return Week(
        number=week.number,
        monday=week.monday,
        mesocycle=week.mesocycle,
        kind=week.kind,
        specificity=planned.specificity.value,
        volumes=volumes,
        sessions=tuple(
            sorted(
                (
                    *frozen,
                    *(_session(one, old, made) for one, old in zip(planned.sessions, olds, strict=True)),
                ),
                key=lambda session: (session.date, session.start, session.place),
            )
        ),
    )


def _session(planned: PlannedSession, old: Session | None, made: _Assembly) -> Session:
    setting = planned.setting
    day = setting.day
    ref = old.ref if old else made.new_ref()
    minutes, total, available = session_minutes(setting, planned.lines)
    by_hand = {
        name: made.ledger.named(old.basis[name])
        for name in HAND_SET
        if old and old.locked and name in old.basis
    } | made.taken_out(old.basis if old else {})
    made.nodes[ref] = {"minutes": total, "minutes_available": available, **by_hand}
    lines = old_lines(old) if old else {}
    keys = numbered(_key(line) for line in planned.lines)
    return Session(
        ref=ref,
        date=day.date,
        start=day.slot.start,
        minutes=minutes,
        minutes_available=float(day.slot.minutes),
        slot=day.slot.ref,
        place=day.place.ref,
        role=day.role,
        locked=old.locked if old else False,
        prescriptions=tuple(
            _line(line, lines.get(key), made) for line, key in zip(planned.lines, keys, strict=True)
        ),
    )


def _key(line: Line) -> tuple[object, ...]:
    fields = line.fields
    return (fields["purpose"], fields["method"], fields.get("run"), fields["exercise"])


def _line(line: Line, old: Prescription | None, made: _Assembly) -> Prescription:
    ref = old.ref if old else made.new_ref()
    made.nodes[ref] = {name: tag for name, tag in line.basis.items() if holds_number(line.fields, name)}
    return Prescription(ref=ref, locked=old.locked if old else (), **line.fields)
