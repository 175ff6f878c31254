"""Every call of the API has a row that says whom it takes, and every role meets it in both squads."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client

from invented_squads import CANARY, PROGRAMME, Squads
from speedloom.store.api_tokens import make_token, revoke_token, tokens
from speedloom.store.cards import ROLES, Actor
from speedloom.store.permissions import Action, allowed, within
from speedloom.web.pages.api.site import addresses, description


@dataclass(frozen=True)
class Row:
    """Whom a call takes; `whole` means the squad, without it reaching one athlete is enough."""

    takes: Action | None
    whole: bool = False


SQUAD = "/api/squads/{squad}"
PLAN = f"{SQUAD}/programmes/{{programme}}"
ROWS = {
    "GET /api/me": Row(None),
    "GET /api/squads": Row(None),
    f"GET {SQUAD}": Row("see_squad", whole=True),
    f"GET {SQUAD}/athletes": Row("see_athlete"),
    f"POST {SQUAD}/athletes": Row("change_athlete", whole=True),
    f"GET {SQUAD}/athletes/{{athlete}}": Row("see_athlete"),
    f"GET {SQUAD}/measurements": Row("see_tests"),
    f"POST {SQUAD}/measurements": Row("write_tests", whole=True),
    f"GET {SQUAD}/brief": Row("see_squad", whole=True),
    f"GET {SQUAD}/programmes": Row("see_programme"),
    f"GET {PLAN}": Row("see_programme"),
    f"GET {PLAN}/revisions": Row("see_programme", whole=True),
    f"GET {PLAN}/revisions/{{number}}": Row("see_programme"),
    f"POST {PLAN}/changes": Row("change_programme", whole=True),
    f"GET {PLAN}/check": Row("see_programme"),
    f"GET {PLAN}/why/{{ref}}": Row("see_programme"),
    f"GET {PLAN}/log": Row("see_log"),
    f"POST {PLAN}/log": Row("write_log"),
    f"GET {PLAN}/handouts/{{kind}}": Row("hand_out"),
}
PARTS = {"programme": PROGRAMME, "number": "1", "ref": "mila-203", "kind": "calendar"}
each_call = pytest.mark.parametrize("call", sorted(ROWS))


def key_of(who: Actor) -> dict[str, str]:
    """Make a key of a person's, as a program sends it."""
    _, secret = make_token(who, title="a test")
    return {"Authorization": f"Bearer {secret}"}


def sent(call: str, *, squad: str, athlete: str = "mila", headers: dict[str, str] | None = None) -> Any:  # noqa: ANN401 - Django's answer
    """Make a call, with nothing in it."""
    method, _, path = call.partition(" ")
    where = path.format(**PARTS, squad=squad, athlete=athlete)
    return Client().generic(method, where, headers=headers or {}, content_type="application/json")


def may(row: Row, who: Actor, *, squad: str, athlete: str | None) -> bool:
    """Say what the table of roles says."""
    if row.takes is None:
        return True
    if row.whole or athlete is not None:
        return allowed(who, row.takes, squad=squad, athlete=athlete)
    return within(who, row.takes, squad=squad) != frozenset()


def test_every_call_has_a_row() -> None:
    described = {
        f"{method.upper()} {path}" for path, methods in description()["paths"].items() for method in methods
    }
    assert described == set(ROWS)
    listed = {re.sub(r"<(?:\w+:)?(\w+)>", r"{\1}", f"/api/{one.pattern}") for one in addresses()}
    assert listed - {"/api/openapi.json"} == {call.partition(" ")[2] for call in ROWS}


@each_call
def test_nobody_gets_in_without_a_key(call: str, squads: Squads) -> None:
    for headers in ({}, {"Authorization": "Bearer x"}, {"Authorization": "Basic eDp5"}):
        answer = sent(call, squad=squads.ours, headers=headers)
        assert answer.status_code == 401, answer.content
        assert answer.json()["problems"][0]["what"].startswith("Expected a key")


@each_call
@pytest.mark.parametrize("role", ROLES)
def test_every_role_in_the_own_and_the_other_squad(role: str, call: str, squads: Squads) -> None:
    who, row = squads.by_role[role], ROWS[call]  # type: ignore[index]
    headers = key_of(who)
    for squad in (squads.ours, squads.theirs):
        for athlete in ("mila", "noa"):
            about = athlete if "{athlete}" in call else None
            status = sent(call, squad=squad, athlete=athlete, headers=headers).status_code
            if may(row, who, squad=squad, athlete=about):
                assert status == (200 if call.startswith("GET") else 422), status
            else:  # that another squad exists nobody learns
                assert status == (404 if squad == squads.theirs else 403), status


@each_call
def test_the_word_of_another_squad_is_in_no_answer(call: str, squads: Squads) -> None:
    for who in squads.by_role.values():
        headers = key_of(who)
        for squad in (squads.ours, squads.theirs):
            assert CANARY not in sent(call, squad=squad, headers=headers).content.decode(errors="replace")


def test_the_owner_of_the_other_squad_does_read_the_word(squads: Squads) -> None:
    headers = key_of(squads.outsider)
    for call in ("GET /api/squads", f"GET {SQUAD}/athletes", f"GET {SQUAD}/brief", f"GET {SQUAD}/programmes"):
        assert CANARY in sent(call, squad=squads.theirs, headers=headers).content.decode()


def test_a_key_that_was_taken_back_opens_nothing(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    headers = key_of(coach)
    assert sent("GET /api/me", squad="", headers=headers).json()["login"] == "coach"
    revoke_token(coach, tokens(coach)[0].id)
    assert sent("GET /api/me", squad="", headers=headers).status_code == 401


def test_the_description_is_for_those_who_have_a_key(squads: Squads) -> None:
    assert Client().get("/api/openapi.json").status_code == 401
    told = Client().get("/api/openapi.json", headers=key_of(squads.by_role["viewer"])).json()
    assert told["openapi"].startswith("3.1")
    assert {"Programme", "Measurements", "EntriesSent", "Problems"} <= set(told["components"]["schemas"])
