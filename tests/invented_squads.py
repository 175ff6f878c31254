"""Two invented squads in the store: somebody of every role in the first, none of them in the other."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from small_programme import small_programme
from speedloom.store import athletes, briefs, invitations, measurements, people, programmes, squads
from speedloom.store.cards import ROLES, Actor, Role
from speedloom.training.athlete import Athlete, Limit, Restriction
from speedloom.training.brief import Brief
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme

CANARY = "Zwartkopmees"
"""A word that stands in every text of the other squad, and in none of the first."""
PASSWORD = "paper boats on a long river"  # noqa: S105 - of invented people, in tests
REFS = ("mila", "noa")
PROGRAMME = "4f1c2a90b7de"


@dataclass(frozen=True)
class Squads:
    """The keys of both squads, and who acts."""

    ours: str
    theirs: str
    keeper: Actor
    outsider: Actor
    by_role: dict[Role, Actor]


def brief(name: str = "Spring", place: str = "hall") -> Brief:
    """Make a brief without athletes, as a squad's pages begin with."""
    content = {
        "schema": "speedloom.brief/1",
        "name": name,
        "timezone": "Europe/Amsterdam",
        "start": "2026-01-12",
        "end": "2026-02-08",
        "goal": {"distance_m": 30.0},
        "phases": {"mesocycle_weeks": [4]},
        "places": [{"ref": place, "kind": "hall", "straight_m": 40.0, "run_out_m": 10.0}],
        "kit": [{"ref": "sled", "kind": "sled", "place": place, "empty_kg": 12.0, "plates_kg": [[10.0, 2]]}],
        "slots": [{"ref": "mon", "day": "monday", "start": "18:00", "minutes": 75, "place": place}],
        "events": [{"kind": "other", "title": f"{name} evening", "date": "2026-01-20"}],
    }
    return Brief.model_validate_json(json.dumps(content))


def two_athletes() -> Programme:
    """Make the hand-made programme for mila and, the same with her own refs, for noa."""
    return programme_of(REFS)


def programme_of(refs: Sequence[str]) -> Programme:
    """Make the hand-made programme for mila, who comes first, and the same for others."""
    text = small_programme().model_copy(update={"id": PROGRAMME}).model_dump_json(by_alias=True)
    one = json.loads(text)
    for ref in refs[1:]:
        _add(one, json.loads(text.replace("mila", ref)), before=ref[0] if ref == "noa" else ref)
    return Programme.model_validate_json(json.dumps(one))


def _add(one: dict[str, Any], other: dict[str, Any], *, before: str) -> None:
    one["programmes"] += other["programmes"]
    for name, node in other["basis"].items():
        one["basis"][f"{before}{name}"] = node | {
            "inputs": {
                key: f"{before}{to}" if to in other["basis"] else to for key, to in node["inputs"].items()
            }
        }
    for week in one["programmes"][-1]["weeks"]:
        week["basis"] = {field: f"{before}{node}" for field, node in week["basis"].items()}
        for session in week["sessions"]:
            for part in (session, *session["prescriptions"]):
                part["basis"] = {field: f"{before}{node}" for field, node in part["basis"].items()}


def sprint(ref: str, *, day: str = "2026-01-08", trial: int = 1, last: float = 4.41) -> Measurements:
    """Make one timed sprint."""
    splits = [{"distance_m": 10.0, "time_s": 1.902}, {"distance_m": 30.0, "time_s": last}]
    row = {
        "athlete": ref,
        "date": day,
        "trial": trial,
        "timing": "gates",
        "clock": "unknown",
        "splits": splits,
    }
    return Measurements.model_validate_json(json.dumps({"trials": [row]}))


def limit(ref: str = "knee", *, set_as: str = "coach", said: str = "the coach") -> Restriction:
    """Make a restriction to four fifths of top speed."""
    return Restriction.model_validate(
        {
            "ref": ref,
            "limits": (Limit(what="share_vmax", at_most=0.8),),
            "from": date(2026, 1, 12),
            "set_by": said,
            "set_as": set_as,
        }
    )


def one_of(
    keeper: Actor, squad: str, role: Role, *, name: str | None = None, only: tuple[str, ...] = ()
) -> Actor:
    """Invite somebody with a role, and let them come."""
    athlete = "mila" if role == "athlete" else None
    _, secret = invitations.invite(keeper, squad, role=role, athlete=athlete, only=only)
    login = name or role
    return invitations.accept_with_new_account(secret, login=login, name=f"The {login}", password=PASSWORD)


def one_squad(*, password: str | None = None) -> tuple[Actor, str]:
    """Store a squad with two athletes, a test of each and a programme; give its owner and its key."""
    keeper = people.make_person(login="keeper", name="The keeper", password=password, keeper=True)
    ours = squads.make_squad(keeper, name="Ours", brief=brief())
    keeper = people.again(keeper)
    for ref in REFS:
        athletes.add_athlete(keeper, ours, Athlete(ref=ref, name=ref.title()))
        measurements.add_measurements(keeper, ours, sprint(ref))
    programmes.save_programme(keeper, ours, two_athletes(), name="Spring")
    return keeper, ours


def two_squads() -> Squads:
    """Store both squads, and everybody's account."""
    keeper, ours = one_squad(password=PASSWORD)
    by_role = {role: one_of(keeper, ours, role) for role in ROLES}
    outsider, theirs = _the_others()
    return Squads(ours, theirs, keeper, outsider, by_role)


def _the_others() -> tuple[Actor, str]:
    outsider = people.make_person(login="outsider", name=CANARY, password=PASSWORD, keeper=True)
    theirs = squads.make_squad(outsider, name=CANARY, brief=brief(CANARY))
    outsider = people.again(outsider)
    restricted = Athlete(ref="mila", name=CANARY, restrictions=(limit(said=CANARY),))
    athletes.add_athlete(outsider, theirs, restricted)
    measurements.add_measurements(outsider, theirs, sprint("mila", last=4.0))
    programmes.save_programme(outsider, theirs, small_programme(), name=CANARY)
    briefs.save_brief(outsider, theirs, brief(CANARY, "hall_2"), after=1, reason=CANARY)
    return outsider, theirs
