"""Everything that is kept of one athlete, or of a whole squad, as plain JSON to take away."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from speedloom.store import models
from speedloom.store._rows import athlete_row, note, squad_row
from speedloom.store.cards import Actor
from speedloom.store.logs import log
from speedloom.store.packing import unpacked
from speedloom.store.programme_part import only
from speedloom.training.document import canonical

SCHEMA = "speedloom.athlete/1"


def export_athlete(actor: Actor, squad: str, ref: str) -> dict[str, Any]:
    """Give everything that is kept of an athlete as one JSON value."""
    row = athlete_row(actor, "export_athlete", squad, ref)
    note(actor, "export_athlete", squad=row.squad, about=ref)
    return {
        "schema": SCHEMA,
        **_athlete(row),
        "programmes": _programmes(row),
        "log": [
            json.loads(text)
            for text in models.LogEntry.objects.filter(programme__squad=row.squad, athlete=ref)
            .order_by("pk")
            .values_list("document", flat=True)
        ],
        "deeds": [
            {"at": one.at.isoformat(), "by": one.by, "action": one.action, "detail": one.detail}
            for one in models.Audit.objects.filter(squad=row.squad, about=ref).order_by("pk")
        ],
    }


def _athlete(row: models.Athlete) -> dict[str, Any]:
    return {
        "athlete": json.loads(row.document),
        "screening": json.loads(row.screening) if row.screening else None,
        "asked": [_asked(one) for one in models.Asked.objects.filter(athlete=row).order_by("pk")],
        "restrictions": [_restriction(one) for one in row.restrictions.order_by("pk")],
        "measurements": [_measured(one) for one in row.measurements.order_by("date", "pk")],
        "wellness": [json.loads(one.document) for one in models.Wellness.objects.filter(athlete=row)],
        "clearances": [_cleared(one) for one in models.Clearance.objects.filter(athlete=row).order_by("pk")],
        "notes": [_note(one) for one in models.Note.objects.filter(athlete=row).order_by("pk")],
    }


def export_squad(actor: Actor, squad: str) -> Iterator[tuple[str, Any]]:
    """Give everything that is kept of a squad, one JSON value a file, with the file's name.

    A brief and each programme are the documents that the command line reads; a log is one of its programme.
    """
    row = squad_row(actor, "export_squad", squad)
    note(actor, "export_squad", squad=row)
    return _squad(actor, row)


def _squad(actor: Actor, row: models.Squad) -> Iterator[tuple[str, Any]]:
    for brief in models.BriefRevision.objects.filter(squad=row).order_by("number"):
        yield f"brief/revision_{brief.number}.json", json.loads(brief.document)
    for one in models.Athlete.objects.filter(squad=row).order_by("ref"):
        yield f"athletes/{one.ref}.json", _athlete(one)
    for programme in models.Programme.objects.filter(squad=row).order_by("pk"):
        folder = f"programmes/{programme.ref}"
        revisions = models.ProgrammeRevision.objects.filter(programme=programme).order_by("number")
        for revision in revisions.iterator():
            yield (
                f"{folder}/revision_{revision.number}.json",
                json.loads(canonical(unpacked(revision.document))),
            )
        entries = log(actor, row.key, programme.ref)
        if entries.entries:
            yield f"{folder}/log.json", json.loads(canonical(entries))
    yield "deeds.json", [_deed(one) for one in models.Audit.objects.filter(squad=row).order_by("pk")]


def _deed(one: models.Audit) -> dict[str, Any]:
    return {
        "at": one.at.isoformat(),
        "by": one.by,
        "action": one.action,
        "about": one.about,
        "detail": one.detail,
    }


def _note(one: models.Note) -> dict[str, Any]:
    return {"at": one.at.isoformat(), "by": one.by, "text": one.text}


def _asked(one: models.Asked) -> dict[str, Any]:
    return {**json.loads(one.document), "by": one.name, "role": one.role, "at": one.at.isoformat()}


def _cleared(one: models.Clearance) -> dict[str, Any]:
    return {
        "after": one.after,
        "written_by": one.written_by,
        "written_on": one.written_on.isoformat(),
        "seen_by": one.seen_by,
        "at": one.at.isoformat(),
        "taken_back": one.takes_back_id is not None,
    }


def _restriction(one: models.Restriction) -> dict[str, Any]:
    return {
        **json.loads(one.document),
        "set_at": one.set_at.isoformat(),
        "came_with": one.came_with or None,
        "lifted_at": one.lifted_at.isoformat() if one.lifted_at else None,
        "lifted_by": one.lifted_by or None,
        "lifted_reason": one.lifted_reason or None,
    }


def _measured(one: models.Measurement) -> dict[str, Any]:
    struck = {"struck_by": one.struck_by or None, "struck_reason": one.struck_reason or None}
    return {"kind": one.kind, **json.loads(one.document), "by": one.by, **struck}


def _programmes(row: models.Athlete) -> list[Any]:
    revisions = models.ProgrammeRevision.objects.filter(
        programme__squad=row.squad, athletes__contains=f" {row.ref} "
    )
    return [
        json.loads(canonical(only(unpacked(one.document), {row.ref})))
        for one in revisions.order_by("programme_id", "number").iterator()
    ]
