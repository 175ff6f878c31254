"""What tests of a session's pages type and send: entries of the small squad's second Monday."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.test import Client

from invented_squads import PROGRAMME, Squads
from log_entries import NOTHING
from speedloom.store import logs, models
from speedloom.store.cards import Actor
from speedloom.training.log import LogEntry

DAY = "2026-01-19"
SLED = "mila-203"
PLAIN: dict[str, Any] = {
    "at": "2026-01-19T18:30:00+01:00", "revision": 1, "athlete": "mila", "session": "mila-200",
    "line": SLED, "date": DAY, "exercise": "sled_sprint", "replaces": None, "status": "done",
    "reason": None, "timing": None, "clock": None, "behind_m": None, "surface": None, "results": [],
    "effort": None, "minutes": None, "note": "",
}  # fmt: skip


def client(who: Actor) -> Client:
    found, person = Client(), models.Person.objects.get(pk=who.person)
    found.force_login(person, backend="speedloom.store.signing_in.PersonBackend")
    return found


def here(squads: Squads, rest: str = f"sessions/{DAY}/?on={DAY}") -> str:
    return f"/squads/{squads.ours}/programmes/{PROGRAMME}/{rest}"


def entry(number: int, who: Actor, **fields: object) -> dict[str, Any]:
    return {"id": str(UUID(int=number)), "by": who.login, **PLAIN, **fields}


def run(rep: int, time_s: float, **fields: object) -> dict[str, Any]:
    return {**NOTHING, "set": 1, "rep": rep, "time_s": time_s, "load_kg": 37.5, "distance_m": 10, **fields}


def sent(found: Client, squads: Squads, entries: Iterable[dict[str, Any]], status: int = 200) -> Any:  # noqa: ANN401
    answer = found.post(
        here(squads, "written/"), json.dumps({"entries": [*entries]}), content_type="application/json"
    )
    assert answer.status_code == status, answer.content
    body: dict[str, Any] = answer.json()
    return body


def stored(squads: Squads) -> tuple[LogEntry, ...]:
    return logs.log(squads.keeper, squads.ours, PROGRAMME).entries
