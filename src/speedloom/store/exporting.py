"""Everything that is kept of one athlete, for the athlete: plain JSON, nothing of anybody else."""

from __future__ import annotations

import json
from typing import Any

from speedloom.store import models
from speedloom.store._rows import athlete_row, note
from speedloom.store.cards import Actor
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
        "athlete": json.loads(row.document),
        "screening": json.loads(row.screening) if row.screening else None,
        "restrictions": [_restriction(one) for one in row.restrictions.order_by("pk")],
        "measurements": [_measured(one) for one in row.measurements.order_by("date", "pk")],
        "wellness": [json.loads(one.document) for one in models.Wellness.objects.filter(athlete=row)],
        "notes": [_note(one) for one in models.Note.objects.filter(athlete=row).order_by("pk")],
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


def _note(one: models.Note) -> dict[str, Any]:
    return {"at": one.at.isoformat(), "by": one.by, "text": one.text}


def _restriction(one: models.Restriction) -> dict[str, Any]:
    return {
        **json.loads(one.document),
        "set_at": one.set_at.isoformat(),
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
