"""What every re-plan must keep, read off the two documents' JSON; the planner is only asked to plan."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

from safety_judge import judge
from speedloom.planning.clash import Clash
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import canonical, digest
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.replan import replan

Data = dict[str, Any]
RULEBOOK, CATALOGUE = load_rulebook(), load_catalogue()


def outcome(
    old: Programme,
    *,
    since: date,
    lost: Mapping[str, tuple[date, ...]] | None = None,
    brief: ResolvedBrief | None = None,
    reason: str = "A test",
) -> Programme | Clash:
    """Plan again."""
    return replan(
        old, since=since, lost=lost, brief=brief, rulebook=RULEBOOK, catalogue=CATALOGUE, reason=reason
    )


def again(
    old: Programme,
    *,
    since: date,
    lost: Mapping[str, tuple[date, ...]] | None = None,
    brief: ResolvedBrief | None = None,
) -> Programme:
    """Plan again what can be planned."""
    new = outcome(old, since=since, lost=lost, brief=brief)
    assert isinstance(new, Programme), new
    return new


def with_news(programme: Programme, change: Callable[[Data], object]) -> ResolvedBrief:
    """Give a programme's brief with a change made to its JSON."""
    assert programme.brief.content is not None
    data = programme.brief.content.model_dump(mode="json", by_alias=True)
    change(data)
    return ResolvedBrief.model_validate_json(json.dumps(data))


def whole(programme: Programme) -> Data:
    """Give a programme as its file holds it."""
    document: Data = json.loads(canonical(programme))
    return document


def broken(old: Programme, new: Programme, *, since: date) -> list[str]:
    """List every promise that a re-plan does not keep, in words; none where it keeps all."""
    if new is old:
        return []
    was, now = whole(old), whole(new)
    findings = check_programme(new, brief=None, rulebook=RULEBOOK, catalogue=CATALOGUE).hard()
    return [
        *_revision(old, new, since=since),
        *_past(was, now, since=since),
        *refs_broken(was, now),
        *(f"hard: {one.rule} {one.number} {one.athlete} {one.session} {one.detail}" for one in findings),
        *(f"judged: {fault}" for fault in judge(now)),
    ]


def _revision(old: Programme, new: Programme, *, since: date) -> Iterator[str]:
    one = new.revision
    if (new.id, new.timezone) != (old.id, old.timezone):
        yield "another programme"
    if (one.number, one.parent, one.cause) != (old.revision.number + 1, digest(old), "replan"):
        yield "not the next revision"
    if one.frozen_until != since - timedelta(days=1):
        yield f"frozen until {one.frozen_until}"
    if canonical(Programme.model_validate_json(canonical(new))) != canonical(new):
        yield "does not come back from its file"


def sessions_of(document: Data) -> Iterator[tuple[str, Data, Data]]:
    """Give every session of a document with its athlete and week."""
    for own in document["programmes"]:
        for week in own["weeks"]:
            yield from ((own["athlete"], week, session) for session in week["sessions"])


def _past(was: Data, now: Data, *, since: date) -> Iterator[str]:
    """Compare what is over in every number and every derivation; names of nodes may be given anew."""
    sides = [
        _weeks_over(one, since, roots)
        | {
            session["ref"]: _resolved(session, roots)
            for _, _, session in sessions_of(one)
            if _over(session, since)
        }
        for one, roots in ((was, _Roots(was["basis"])), (now, _Roots(now["basis"])))
    ]
    yield from (f"the past changed: {name}" for name in sides[0] if sides[1].get(name) != sides[0][name])
    yield from (
        f"new in the past: {name}"
        for name, one in sides[1].items()
        if name not in sides[0] and "place" in one
    )


def _weeks_over(document: Data, since: date, roots: _Roots) -> dict[str, Data]:
    """Give the weeks that are over altogether, with what they should have held."""
    return {
        f"{own['athlete']} week {week['number']}": _resolved(week | {"sessions": []}, roots)
        for own in document["programmes"]
        for week in own["weeks"]
        if date.fromisoformat(week["monday"]) + timedelta(days=6) < since
    }


def _over(session: Data, since: date) -> bool:
    return bool(date.fromisoformat(session["date"]) < since)


class _Roots:
    """Nodes by what they say and rest on, whatever they are called."""

    def __init__(self, nodes: Data) -> None:
        self.nodes = nodes
        self.known: dict[str, str] = {}

    def of(self, name: str) -> str:
        if name not in self.nodes:
            return name
        if name not in self.known:
            node = self.nodes[name]
            inputs = {key: self.of(path) for key, path in sorted(node["inputs"].items())}
            text = json.dumps(node | {"inputs": inputs}, sort_keys=True)
            self.known[name] = sha256(text.encode()).hexdigest()
        return self.known[name]


def _resolved(part: Data, roots: _Roots) -> Data:
    found = part | {"basis": {name: roots.of(node) for name, node in part["basis"].items()}}
    if "prescriptions" in part:
        found["prescriptions"] = [_resolved(line, roots) for line in part["prescriptions"]]
    return found


def refs_broken(was: Data, now: Data) -> Iterator[str]:
    """Refs are given out once, and stay with their session or line, or are retired for good."""
    before = {own["athlete"]: own for own in was["programmes"]}
    for own in now["programmes"]:
        old = before.get(own["athlete"], {"weeks": [], "retired": [], "next_ref": 1})
        there, were = _all_refs(own), _all_refs(old)
        retired = set(own["retired"])
        if len(there) != len(set(there)) or len(retired) != len(own["retired"]):
            yield f"{own['athlete']}: a ref twice"
        if retired & set(there):
            yield f"{own['athlete']}: a retired ref is used"
        if not set(old["retired"]) | set(were) <= retired | set(there):
            yield f"{own['athlete']}: a ref is forgotten"
        new = [_number(ref) for ref in set(there) - set(were)]
        if new and min(new) < old["next_ref"]:
            yield f"{own['athlete']}: a ref is given out again"
        if max(map(_number, there), default=0) >= own["next_ref"]:
            yield f"{own['athlete']}: next_ref is too low"
    yield from (f"{athlete} is forgotten" for athlete in before if athlete not in _athletes(now))


def _athletes(document: Data) -> set[str]:
    return {own["athlete"] for own in document["programmes"]}


def _all_refs(own: Data) -> list[str]:
    sessions = [session for week in own["weeks"] for session in week["sessions"]]
    lines = [line["ref"] for session in sessions for line in session["prescriptions"]]
    return [*(session["ref"] for session in sessions), *lines]


def _number(ref: str) -> int:
    return int(ref.rpartition("-")[2])


def moved(old: Programme, new: Programme) -> list[str]:
    """List sessions that were moved, added or taken away, by ref."""
    sides = [
        {session["ref"]: [session[name] for name in ("date", "start", "place")] for _, _, session in found}
        for found in (sessions_of(whole(old)), sessions_of(whole(new)))
    ]
    return [ref for ref in {**sides[0], **sides[1]} if sides[0].get(ref) != sides[1].get(ref)]


def grown(old: Programme, new: Programme, *, since: date) -> list[str]:
    """List what is more than before in a session that is still to come, by ref and method."""
    sides = [_amounts(whole(one), since) for one in (old, new)]
    return [
        f"{ref} {method}"
        for ref, methods in sides[1].items()
        for method, amount in methods.items()
        if amount > sides[0].get(ref, {}).get(method, 0.0) + 1e-9
    ]


def _amounts(document: Data, since: date) -> dict[str, dict[str, float]]:
    """Count repetitions, metres and kilograms of each method in sessions still to come."""
    found: dict[str, dict[str, float]] = {}
    for _, _, session in sessions_of(document):
        if _over(session, since):
            continue
        own = found.setdefault(session["ref"], {})
        work = [line for line in session["prescriptions"] if line["purpose"] == "work"]
        for line in work:
            name = line["method"]
            count = line["sets"] * line["reps"]
            metres = (line["distance_m"] or 0.0) + (line["run_in_m"] or 0.0)
            for unit, amount in (("reps", 1.0), ("m", metres), ("kg", line["load_kg"])):
                own[f"{name} {unit}"] = own.get(f"{name} {unit}", 0.0) + count * (amount or 0.0)
    return found
