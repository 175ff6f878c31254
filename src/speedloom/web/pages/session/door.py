"""The log's door for pages: entries as JSON in, what became of each out; and what is written of a day."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import date as Date  # noqa: N812 - `date` is a part of the address
from typing import Any

from django.http import HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from pydantic import ValidationError

from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.store.log_of_day import written_on
from speedloom.training.log import LogEntry
from speedloom.web.access import LOOKS, Request, needs
from speedloom.web.pages.session.taking import Taken, Why, take

MOST = 500
"""Entries sent at once [count]; a phone sends its queue in smaller parts."""
UNUSABLE = 422
NO_ENTRIES = 'Expected {"entries": [ … ]} with up to 500 entries of a log, got something else.'


@needs("see_log", change="write_log")
def written(
    request: Request, squad: SquadCard, programme: ProgrammeCard, athlete: AthleteCard | None = None
) -> HttpResponse:
    """Take entries, each once however often it is sent; or say what is written of a day."""
    if request.method in LOOKS:
        return _of_a_day(request, squad, programme, athlete)
    try:
        entries, unreadable = read_entries(request.body)
    except (ValueError, RecursionError):
        return JsonResponse({"problem": NO_ENTRIES}, status=UNUSABLE)
    if athlete is not None:
        unreadable += [_not_of(entry, athlete) for entry in entries if entry.athlete != athlete.ref]
        entries = [entry for entry in entries if entry.athlete == athlete.ref]
    return answered(take(request.actor, squad.key, programme.id, entries), unreadable, by=request.actor.login)


def answered(taken: Taken, unreadable: Sequence[Why] = (), *, by: str) -> JsonResponse:
    """Answer with what became of every entry; 422 where none of them could be kept."""
    body = {"by": by, **asdict(taken)}
    body["refused"] = [*body["refused"], *map(asdict, unreadable)]
    kept = taken.stored or taken.known or taken.clashing
    return JsonResponse(body, status=UNUSABLE if body["refused"] and not kept else 200)


def read_entries(body: bytes, *, most: int = MOST) -> tuple[list[LogEntry], list[Why]]:
    """Read the entries of a call; one that is not in the shape of an entry is named with what is wrong.

    Raises:
        ValueError: not a list of entries at all.
    """
    sent = json.loads(body)
    rows = sent.get("entries") if isinstance(sent, dict) else None
    if not isinstance(rows, list) or len(rows) > most or not all(isinstance(row, dict) for row in rows):
        raise ValueError(NO_ENTRIES)
    entries, wrong = [], []
    for row in rows:
        try:
            entries.append(LogEntry.model_validate_json(json.dumps(row)))
        except ValidationError as error:
            wrong.append(Why(str(row.get("id"))[:36], _wrong(error)))
    return entries, wrong


def _wrong(error: ValidationError) -> str:
    first = error.errors()[0]
    where = ".".join(map(str, first["loc"]))
    return f"{where}: {first['msg']}, got {json.dumps(first.get('input'), default=str)[:60]}."


def _not_of(entry: LogEntry, athlete: AthleteCard) -> Why:
    return Why(entry.id, f"athlete: expected {athlete.ref}, got {entry.athlete}.")


def _of_a_day(
    request: Request, squad: SquadCard, programme: ProgrammeCard, athlete: AthleteCard | None
) -> HttpResponse:
    """Give the entries of a day, and what a page that was open for long needs to send its own."""
    entries = list(
        written_on(
            request.actor,
            squad.key,
            programme.id,
            day_of(request),
            sessions=request.GET.getlist("session")[:MOST],
            trained_on=day_of(request, "on"),
        )
    )
    if athlete is not None:
        entries = [entry for entry in entries if entry.athlete == athlete.ref]
    body: dict[str, Any] = {"by": request.actor.login, "token": get_token(request), "count": len(entries)}
    if request.GET.get("have") != str(len(entries)):
        body["entries"] = [entry.model_dump(mode="json") for entry in entries]
    return JsonResponse(body)


def day_of(request: Request, name: str = "date") -> Date:
    """Give the day that is asked for; one before all others where none is."""
    try:
        return Date.fromisoformat(request.GET.get(name, ""))
    except ValueError:
        return Date.min
