"""What must be true of every programme document, and what changed from one to the next.

Written from the shapes of the documents alone; plain JSON, nothing of the product is imported.
"""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from outside_log import LIFTS, catalogue, sides

Data = dict[str, Any]
CLOSING_MIN = {"gym": 3.0, "field": 4.0}  # down, talk, write: default doses, section 4, common practice


def digest(document: Data) -> str:
    """Digest a document: SHA-256 over its JSON with sorted keys and no spaces."""
    text = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return "sha256:" + hashlib.sha256(text.encode("utf-8")).hexdigest()


def parts(programme: Data) -> Iterator[tuple[Data, Data, Data, Data]]:
    """List every line with its athlete's programme, week and session."""
    for own in programme["programmes"]:
        for week in own["weeks"]:
            for session in week["sessions"]:
                for line in session["prescriptions"]:
                    yield own, week, session, line


def all_sessions(programme: Data) -> Iterator[tuple[Data, Data, Data]]:
    """List every session with its athlete's programme and week."""
    for own in programme["programmes"]:
        for week in own["weeks"]:
            for session in week["sessions"]:
                yield own, week, session


def line(programme: Data, ref: str) -> Data:
    """Find a line."""
    return next(line for *_, line in parts(programme) if line["ref"] == ref)


def session(programme: Data, ref: str) -> Data:
    """Find a session."""
    return next(session for *_, session in all_sessions(programme) if session["ref"] == ref)


def faults(programme: Data) -> list[str]:
    """List every total, count, ref and basis that the document's own lines contradict."""
    found = [*_volumes(programme), *_minutes(programme), *_contacts(programme)]
    return [*found, *_refs(programme), *_basis(programme)]


def volume(line: Data) -> tuple[str, float] | None:
    """Give what a line adds to its week: runs by kind in metres, jumps in contacts, lifts in sets."""
    if line["purpose"] != "work":
        return None
    metres = line["sets"] * line["reps"] * (line["distance_m"] or 0.0)
    if line["method"] in {"unloaded_sprint", "resisted_sprint"}:
        return (line["run"] or line["method"], metres)
    if line["method"] == "plyometric":
        return (line["method"], line["contacts"])
    return (line["method"], line["sets"]) if line["method"] in LIFTS else None


def _volumes(programme: Data) -> Iterator[str]:
    for own in programme["programmes"]:
        for week in own["weeks"]:
            sums: dict[str, float] = defaultdict(float)
            for one in (line for session in week["sessions"] for line in session["prescriptions"]):
                name, amount = volume(one) or ("", 0.0)
                sums[name] += amount
            said = {name: volume["planned"] for name, volume in week["volumes"].items()}
            for name in {*sums, *said} - {""}:
                if abs(sums[name] - said.get(name, 0.0)) > 1e-9:
                    yield f"{own['athlete']} week {week['number']} {name}: {sums[name]}, {said.get(name)}"


def _minutes(programme: Data) -> Iterator[str]:
    kinds = {place["ref"]: place["kind"] for place in programme["brief"]["content"]["places"]}
    for *_, session in all_sessions(programme):
        sums = sum(line["minutes"] for line in session["prescriptions"])
        closing = CLOSING_MIN["gym" if kinds[session["place"]] == "gym" else "field"]
        if session["prescriptions"] and abs(session["minutes"] - sums - closing) > 1e-9:
            yield f"{session['ref']} minutes: {sums} and {closing}, {session['minutes']}"


def _contacts(programme: Data) -> Iterator[str]:
    known = catalogue(programme)
    for *_, line in parts(programme):
        if line["contacts"] is not None and line["exercise"] in known:
            each = known[line["exercise"]]["contacts_per_rep"] * sides(line["side"])
            if line["contacts"] != line["sets"] * line["reps"] * each:
                yield f"{line['ref']} contacts: {line['sets']} x {line['reps']} x {each}, {line['contacts']}"


def refs(programme: Data) -> list[str]:
    """List the refs in use, each as often as it is used."""
    own = [session["ref"] for *_, session in all_sessions(programme)]
    return [*own, *(line["ref"] for *_, line in parts(programme))]


def _refs(programme: Data) -> Iterator[str]:
    used = refs(programme)
    yield from (f"{ref} is used twice" for ref in {ref for ref in used if used.count(ref) > 1})
    for own in programme["programmes"]:
        mine = {ref for ref in used if ref.rpartition("-")[0] == own["athlete"]}
        yield from (f"{ref} is retired and in use" for ref in mine & set(own["retired"]))
        late = {ref for ref in {*mine, *own["retired"]} if int(ref.rpartition("-")[2]) >= own["next_ref"]}
        yield from (f"{ref} is not below next_ref" for ref in late)


def _basis(programme: Data) -> Iterator[str]:
    nodes, done = programme["basis"], set[str]()
    for owner in _with_basis(programme):
        for name in owner["basis"].values():
            yield from _walk(nodes, name, done, ())
    yield from (f"{name} is used by nothing" for name in set(nodes) - done)


def _walk(nodes: Data, name: str, done: set[str], above: tuple[str, ...]) -> Iterator[str]:
    if name in above or name not in nodes:
        yield f"{name} rests on itself or is missing"
    elif name not in done:
        done.add(name)
        for under in nodes[name]["inputs"].values():
            if is_node(under):
                yield from _walk(nodes, under, done, (*above, name))


def is_node(under: Any) -> bool:  # noqa: ANN401 - an input is a number, a node or a leaf with a colon
    """Say whether an input names a node of the same document."""
    return isinstance(under, str) and ":" not in under


def _with_basis(programme: Data) -> Iterator[Data]:
    for own in programme["programmes"]:
        for week in own["weeks"]:
            yield week
            for session in week["sessions"]:
                yield session
                yield from session["prescriptions"]


def values(programme: Data) -> dict[str, Any]:
    """Give every value of lines and sessions by `ref.field`, the derivations left aside."""
    found: dict[str, Any] = {}
    for *_, one in all_sessions(programme):
        rest = {name: value for name, value in one.items() if name not in {"prescriptions", "basis"}}
        found |= {f"{one['ref']}.{name}": value for name, value in rest.items()}
    for *_, one in parts(programme):
        found |= {f"{one['ref']}.{name}": value for name, value in one.items() if name != "basis"}
    return found


def changed(old: Data, new: Data) -> set[str]:
    """Name every value of lines and sessions that differs, is gone or has come."""
    before, after = values(old), values(new)
    return {name for name in {*before, *after} if before.get(name, ...) != after.get(name, ...)}


def derivation(programme: Data, owner: Data, field: str) -> Any:  # noqa: ANN401 - a tree of JSON
    """Unfold a field's derivation down to its leaves, so that two documents' names do not matter."""

    def unfold(name: Any) -> Any:  # noqa: ANN401
        if not isinstance(name, str) or ":" in name:
            return name
        node = programme["basis"][name]
        return {**node, "inputs": {key: unfold(under) for key, under in node["inputs"].items()}}

    return unfold(owner["basis"][field])
