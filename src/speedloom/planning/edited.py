"""Numbers, days and sessions changed by hand: what follows from them is computed again, nothing else."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from speedloom.planning.holding import LINE_NUMBERS, set_rest, with_values
from speedloom.planning.ledger import Input, Ledger, Tag, last_number, literal
from speedloom.planning.past import refs_of, volume_of
from speedloom.planning.week_volumes import worth
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import AthleteProgramme, Node, Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook

Tags = dict[str, Tag]


@dataclass(frozen=True)
class Change:
    """One thing the coach changes: a line's number or cue, a session's date or start, or a lock on either."""

    ref: str
    field: str
    value: Any = None
    lock: bool | None = None
    """True locks, False unlocks; None changes the value, and locks it."""


@dataclass(frozen=True)
class Edit:
    """A programme under change: new lines and sessions by ref, and the nodes of their numbers."""

    ledger: Ledger
    reason: str
    nodes: dict[str, Tags] = field(default_factory=dict)
    changed: set[str] = field(default_factory=set)

    def tags(self, holder: Prescription | Session | Week, key: str) -> Tags:
        """Give the nodes of a week, session or line, as they are by now."""
        if key not in self.nodes:
            self.nodes[key] = {name: self.ledger.named(node) for name, node in holder.basis.items()}
        return self.nodes[key]

    def by_hand(self, tag: Tag) -> bool:
        """Say whether a number is the coach's own: it keeps its value, whatever it is computed from."""
        return self.ledger.nodes[tag.index].by == "coach"


def edited(
    programme: Programme,
    changes: Sequence[Change],
    *,
    brief: ResolvedBrief,
    rulebook: Rulebook,
    reason: str,
) -> Programme:
    """Give the programme with changes made by hand; its revision and brief stay as they are.

    Args:
        programme: the programme.
        changes: what the coach changes, all of it possible.
        brief: the brief inside the programme.
        rulebook: the rulebook with the brief's changes.
        reason: why, in the coach's words; it is kept with every number.
    """
    by_ref: dict[str, list[Change]] = {}
    for change in changes:
        by_ref.setdefault(change.ref, []).append(change)
    # Only the weeks that are touched are taken up: a squad's other thousands of numbers stay as they are.
    touched = [
        own.model_copy(update={"weeks": weeks})
        for own in programme.programmes
        if (weeks := tuple(week for week in own.weeks if not by_ref.keys().isdisjoint(refs_of((week,)))))
    ]
    ledger = Ledger(
        brief, rulebook, basis=under(programme.basis, touched), after=last_number(programme.basis)
    )
    edit = Edit(ledger, reason)
    changed = [
        own.model_copy(update={"weeks": tuple(_week(week, own, by_ref, edit) for week in own.weeks)})
        for own in touched
    ]
    names, added = known_again(programme.basis, *ledger.numbered(all_tags(changed, edit)))
    renamed = {one.athlete: edit_names(one, edit, names).weeks for one in changed}
    athletes = tuple(with_weeks(own, renamed.get(own.athlete, ())) for own in programme.programmes)
    return programme.model_copy(
        update={"programmes": athletes, "basis": under(programme.basis | added, athletes)}
    )


def known_again(
    basis: Mapping[str, Node], names: Mapping[int, str], added: Mapping[str, Node]
) -> tuple[dict[int, str], dict[str, Node]]:
    """Give new nodes the names of equal ones that a programme has already: equal nodes are stored once.

    Args:
        basis: all nodes of the programme.
        names: the names of the nodes in use, by place in the ledger.
        added: the same nodes by name, inputs before results.
    """
    new = {name: node for name, node in added.items() if name not in basis}
    alike = {(node.by, node.value) for node in new.values()}
    known = {_key(node, node.inputs): name for name, node in basis.items() if (node.by, node.value) in alike}
    same: dict[str, str] = {}
    kept = {name: node for name, node in added.items() if name in basis}
    for name, node in new.items():
        inputs = {key: same.get(link, link) for key, link in node.inputs.items()}
        there = known.get(_key(node, inputs))
        if there is None:
            kept[name] = node.model_copy(update={"inputs": inputs})
        else:
            same[name] = there
    return {index: same.get(name, name) for index, name in names.items()}, kept


def _key(node: Node, inputs: Mapping[str, str]) -> tuple[object, ...]:
    links = tuple(sorted(inputs.items()))
    return (node.quantity, node.value, node.unit, node.by, links, node.low, node.high, node.reason)


def with_weeks(own: AthleteProgramme, weeks: tuple[Week, ...]) -> AthleteProgramme:
    """Put changed weeks in the place of those of their number; an athlete without any stays the same."""
    if not weeks:
        return own
    changed = {week.number: week for week in weeks}
    return own.model_copy(update={"weeks": tuple(changed.get(one.number, one) for one in own.weeks)})


def under(basis: Mapping[str, Node], athletes: Sequence[AthleteProgramme]) -> dict[str, Node]:
    """Give the nodes that some weeks rest on, in the order they stand in."""
    waiting = [node for own in athletes for _, holder in holders(own) for node in holder.basis.values()]
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += [link for link in basis[name].inputs.values() if ":" not in link]
    return {name: node for name, node in basis.items() if name in found}


def _week(week: Week, own: AthleteProgramme, by_ref: Mapping[str, list[Change]], edit: Edit) -> Week:
    sessions = tuple(_session(session, by_ref, edit) for session in week.sessions)
    if sessions == week.sessions:
        return week
    changed = week.model_copy(update={"sessions": tuple(sorted(sessions, key=when))})
    touched = {volume_of(line) for line in _lines(sessions) if line.ref in edit.changed}
    return recounted(changed, f"{own.athlete}-w{week.number}", edit, volumes=touched)


def _lines(sessions: Sequence[Session]) -> Iterator[Prescription]:
    for session in sessions:
        yield from session.prescriptions


def when(session: Session) -> tuple[object, ...]:
    """Give what a week's sessions are in order of."""
    return (session.date, session.start, session.ref)


def _session(session: Session, by_ref: Mapping[str, list[Change]], edit: Edit) -> Session:
    lines = tuple(changed_line(line, by_ref.get(line.ref, []), edit) for line in session.prescriptions)
    changed = session.model_copy(update={"prescriptions": lines})
    if lines != session.prescriptions:
        changed = with_minutes(changed, edit)
    for change in by_ref.get(session.ref, []):
        changed = _session_change(changed, change, edit)
    return changed


def _session_change(session: Session, change: Change, edit: Edit) -> Session:
    if change.lock is not None:
        return session.model_copy(update={"locked": change.lock})
    tags = edit.tags(session, session.ref)
    stood = getattr(session, change.field)
    known = tags.get(change.field) or edit.ledger.given(
        change.field, _text(stood), "", f"literal:{_text(stood)}"
    )
    tags[change.field] = edit.ledger.by_coach(known, _text(change.value), unit="", reason=edit.reason)
    return session.model_copy(update={change.field: change.value, "locked": True})


def _text(value: Any) -> str:  # noqa: ANN401 - a date or a time of day
    return str(value.strftime("%H:%M")) if hasattr(value, "hour") else str(value)


def changed_line(line: Prescription, changes: Sequence[Change], edit: Edit) -> Prescription:
    """Give a line with changes made by hand; its numbers' nodes are kept in the edit."""
    for change in changes:
        if change.lock is not None:
            line = _locked(line, change.field, lock=change.lock)
        elif change.field == "cue":
            line = _locked(line.model_copy(update={"cue": change.value}), "cue", lock=True)
        else:
            line = _locked(_number(line, change, edit), change.field, lock=True)
    return line


def _locked(line: Prescription, name: str, *, lock: bool) -> Prescription:
    names = {*line.locked, name} if lock else set(line.locked) - {name}
    return line.model_copy(update={"locked": tuple(sorted(names))})


def _number(line: Prescription, change: Change, edit: Edit) -> Prescription:
    """Put in the coach's number and compute again what rests on it; what is locked stays."""
    tags = edit.tags(line, line.ref)
    old = tags.get(change.field)
    new = edit.ledger.by_coach(old, change.value, unit=LINE_NUMBERS[change.field], reason=edit.reason)
    edit.changed.add(line.ref)
    swaps = {tag.index: tag for name, tag in tags.items() if name in line.locked and not edit.by_hand(tag)}
    swaps |= {} if old is None else {old.index: new}
    recast = {name: edit.ledger.recast(tag, swaps) for name, tag in tags.items()} | {change.field: new}
    changed = {name: tag for name, tag in recast.items() if tag != tags.get(name)}
    tags |= recast
    values = {name: getattr(line, name) for name in type(line).model_fields}
    return _with_rests(type(line)(**with_values(values, changed)), tags, edit.ledger)


def _with_rests(line: Prescription, tags: Tags, ledger: Ledger) -> Prescription:
    """Say the rests between repetitions and sets where there are several by now, and only there."""
    if line.sets > 1 and line.rest_s is None:
        line = _rested_between_sets(line, tags, ledger)
    minutes = ledger.source_of(tags["minutes"], "value") if "minutes" in tags else None
    for name, count in (("rest_reps_s", line.reps), ("rest_s", line.sets)):
        rest = None if minutes is None else ledger.source_of(minutes, name)
        if count == 1:
            tags.pop(name, None)
            line = line.model_copy(
                update={name: None, "locked": tuple(one for one in line.locked if one != name)}
            )
        elif getattr(line, name) is None and rest is not None:
            tags[name] = rest
            line = line.model_copy(update={name: round(rest.value)})
    return line


def _rested_between_sets(line: Prescription, tags: Tags, ledger: Ledger) -> Prescription:
    """Count a rest between sets where a run of one set has become several."""
    raw = ledger.source_of(tags["minutes"], "value") if "minutes" in tags else None
    reps = None if raw is None else ledger.source_of(raw, "rest_reps_s")
    if raw is None or reps is None or ledger.source_of(raw, "rest_s") is not None:
        return line
    links = dict(ledger.links_of(raw)) | {"rest_s": set_rest(reps, ledger=ledger)}
    minutes = ledger.compute("minutes", "min", "minutes.line", **links)
    tags["minutes"] = ledger.compute("minutes", "min", "round.up", value=minutes, step=literal(0.5))
    return line.model_copy(update={"minutes": float(tags["minutes"].value)})


def with_minutes(session: Session, edit: Edit) -> Session:
    """Give a session with the minutes of its lines counted again."""
    tags = edit.tags(session, session.ref)
    links = edit.ledger.links_of(tags["minutes"])
    inputs: dict[str, Input] = {
        f"line_{place}": edit.tags(line, line.ref)["minutes"]
        for place, line in enumerate(session.prescriptions, 1)
    }
    inputs |= {name: link for name, link in links.items() if not name.startswith("line_")}
    tags["minutes"] = edit.ledger.compute("minutes", "min", "total", **inputs)
    return session.model_copy(update={"minutes": float(tags["minutes"].value)})


def recounted(week: Week, key: str, edit: Edit, *, volumes: Container[str | None]) -> Week:
    """Count some of a week's volumes again, line by line, in the order they were counted first."""
    tags = edit.tags(week, key)
    found = dict(week.volumes)
    for name, volume in week.volumes.items():
        if name in volumes:
            tag = _counted(name, list(_lines(week.sessions)), tags[f"volumes.{name}"], edit)
            tags[f"volumes.{name}"] = tag
            found[name] = volume.model_copy(update={"planned": tag.value})
    return week.model_copy(update={"volumes": found})


def _counted(volume: str, lines: Sequence[Prescription], old: Tag, edit: Edit) -> Tag:
    total, inputs = 0.0, dict[str, Input]()
    counted = [line for line in lines if volume_of(line) == volume]
    for place, line in enumerate(counted, 1):
        parts, amount = worth(line, partial(_where_from, line, edit.tags(line, line.ref)))
        total += amount
        inputs |= {f"{part}_{place}": link for part, link in parts.items()}
    node = edit.ledger.nodes[old.index]
    return edit.ledger.put(node.quantity, total, node.unit, by="volume.planned", inputs=inputs)


def _where_from(line: Prescription, tags: Tags, name: str) -> Input:
    """Give where a number of a line comes from; contacts that only multiply others have no node."""
    return tags[name] if name in tags else literal(getattr(line, name))


def all_tags(athletes: Sequence[AthleteProgramme], edit: Edit) -> Iterator[Tag]:
    """Give every node of some athletes' weeks, in the order of the document."""
    for own in athletes:
        for key, holder in holders(own):
            yield from edit.tags(holder, key).values()


def holders(own: AthleteProgramme) -> Iterator[tuple[str, Prescription | Session | Week]]:
    """Give an athlete's weeks, sessions and lines by the names they are addressed with."""
    for week in own.weeks:
        yield f"{own.athlete}-w{week.number}", week
        for session in week.sessions:
            yield session.ref, session
            yield from ((line.ref, line) for line in session.prescriptions)


def edit_names(own: AthleteProgramme, edit: Edit, names: Mapping[int, str]) -> AthleteProgramme:
    """Give an athlete's weeks with the names of their nodes."""

    def basis(key: str) -> dict[str, str]:
        return {name: names[tag.index] for name, tag in sorted(edit.nodes[key].items())}

    def session(one: Session) -> Session:
        lines = tuple(line.model_copy(update={"basis": basis(line.ref)}) for line in one.prescriptions)
        return one.model_copy(update={"basis": basis(one.ref), "prescriptions": lines})

    weeks = tuple(
        week.model_copy(
            update={
                "basis": basis(f"{own.athlete}-w{week.number}"),
                "sessions": tuple(session(one) for one in week.sessions),
            }
        )
        for week in own.weeks
    )
    return own.model_copy(update={"weeks": weeks})
