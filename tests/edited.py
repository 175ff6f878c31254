"""Changes by hand, made and judged on the documents' JSON; the program is only asked to make them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from invented_briefs import CATALOGUE, RULEBOOK, brief, planned
from replanned import whole
from speedloom.planning.edited import Change
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.edit import edit

Data = dict[str, Any]
UNSOUND = ("derivation", "document_sound", "line_complete")
NAMES = ("ref", "basis", "locked")
"""Parts of a line that are no number of it."""


def change(programme: Programme, *typed: tuple[str, object], reason: str = "A test") -> Programme:
    """Change numbers by hand: `("ada-3.load_kg", 80)`, in one revision."""
    changes = [Change(where.partition(".")[0], where.partition(".")[2], value) for where, value in typed]
    return edit(programme, changes, reason=reason, rulebook=RULEBOOK, unlock=True)


def lock(programme: Programme, *where: str, on: bool = True, reason: str = "A test") -> Programme:
    """Lock or unlock numbers and sessions."""
    changes = [Change(one.partition(".")[0], one.partition(".")[2], lock=on) for one in where]
    return edit(programme, changes, reason=reason, rulebook=RULEBOOK)


def sessions(document: Data) -> dict[str, Data]:
    """Give a document's sessions by ref."""
    return {
        session["ref"]: session
        for own in document["programmes"]
        for week in own["weeks"]
        for session in week["sessions"]
    }


def lines(document: Data) -> dict[str, Data]:
    """Give a document's lines by ref."""
    return {line["ref"]: line for session in sessions(document).values() for line in session["prescriptions"]}


def work(programme: Programme, **fields: object) -> list[Data]:
    """Give a programme's lines of work with these values, in order."""
    return [
        line
        for line in lines(whole(programme)).values()
        if line["purpose"] == "work" and all(line[name] == value for name, value in fields.items())
    ]


def numbers(part: Data) -> Data:
    """Give what is printed of a line, session or week, without refs, locks and derivations."""
    return {name: value for name, value in part.items() if name not in (*NAMES, "prescriptions", "sessions")}


def differing(old: Data, new: Data) -> set[str]:
    """Name the numbers in which two lines, sessions or weeks differ."""
    was, now = numbers(old), numbers(new)
    return {name for name in was if was[name] != now[name]}


def printed(document: Data) -> list[Data]:
    """Give all that is printed of a programme, week by week."""
    return [
        numbers(week)
        | {
            "sessions": [
                numbers(one)
                | {"lines": [numbers(line) | {"ref": line["ref"]} for line in one["prescriptions"]]}
                for one in week["sessions"]
            ]
        }
        for own in document["programmes"]
        for week in own["weeks"]
    ]


def unsound(programme: Programme) -> list[str]:
    """List what the check finds wrong with derivations or the document."""
    content = programme.brief.content
    assert content is not None
    book = RULEBOOK.with_changes(content.rules)
    found = check_programme(programme, brief=None, rulebook=book, catalogue=CATALOGUE)
    return [
        f"{one.rule} {one.number} {one.line} {one.value} {dict(one.detail)}"
        for one in found
        if one.rule in UNSOUND
    ]


def node(programme: Programme, ref: str, field: str) -> Data:
    """Give the node of a line's or a session's number."""
    return programme.basis[_holders(programme)[ref].basis[field]].model_dump(mode="json")


def proposed(programme: Programme, ref: str, field: str) -> Data:
    """Give the node of what would stand there without the coach."""
    return programme.basis[node(programme, ref, field)["inputs"]["proposed"]].model_dump(mode="json")


def _holders(programme: Programme) -> dict[str, Prescription | Session]:
    found: dict[str, Prescription | Session] = {}
    for own in programme.programmes:
        for session in (one for week in own.weeks for one in week.sessions):
            found[session.ref] = session
            found |= {line.ref: line for line in session.prescriptions}
    return found


def weeks(document: Data) -> Iterator[Data]:
    """Give every week of a document."""
    for own in document["programmes"]:
        yield from own["weeks"]


@cache
def squad() -> Programme:
    """Plan somebody with four days a week, six weeks, a bar that makes every 2.5 kg, and a sled."""
    data = brief(end="2026-02-22")
    data["phases"] = {"mesocycle_weeks": [3, 3], "deload": "last", "taper_days": 0}
    return planned(data)
