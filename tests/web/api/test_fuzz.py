"""The API is sent what nobody would think of, drawn from its own description: no fault of the program."""

from __future__ import annotations

import json
from itertools import count
from typing import Any
from urllib.parse import urlencode

import pytest
import schemathesis
from django.db import transaction
from django.test import Client
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import Case, GenerationMode
from schemathesis.core import NotSet

from invented_squads import PROGRAMME, Squads
from speedloom.store.api_tokens import make_token
from speedloom.web.pages.api.site import description

SCHEMA = schemathesis.openapi.from_dict(description())
CALLS = {call.label: call for call in (found.ok() for found in SCHEMA.get_all_operations())}
REAL = {"athlete": "mila", "programme": PROGRAMME, "number": 1, "ref": "mila-203", "kind": "table"}
"""What stands in an address every second time, so that a call gets past the address."""
RESERVED = {"authorization", "host", "content-type", "content-length", "cookie"}
DRAWS = 12
QUICK = settings(
    max_examples=DRAWS,
    derandomize=True,
    deadline=None,
    database=None,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture
def headers(squads: Squads) -> dict[str, str]:
    _, secret = make_token(squads.by_role["owner"], title="a test")
    return {"Authorization": f"Bearer {secret}"}


def test_the_description_describes_every_call() -> None:
    assert len(CALLS) == sum(len(methods) for methods in description()["paths"].values())


def answered(case: Case, headers: dict[str, str]) -> Any:  # noqa: ANN401 - Django's answer
    """Send a case, with somebody's key whatever else it says in its head."""
    said = {name: str(value) for name, value in (case.headers or {}).items()}
    body = "" if isinstance(case.body, NotSet) else case.body
    body = body if isinstance(body, bytes | str) else json.dumps(body)
    return Client(raise_request_exception=False).generic(
        case.method,
        case.formatted_path,
        body,
        case.media_type or "application/json",
        QUERY_STRING=urlencode(case.query or {}, doseq=True, errors="replace"),
        headers={name: value for name, value in said.items() if name.lower() not in RESERVED} | headers,
    )


@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=["right", "wrong"])
@pytest.mark.parametrize("label", sorted(CALLS))
def test_whatever_is_sent_is_answered(
    label: str, mode: GenerationMode, squads: Squads, headers: dict[str, str]
) -> None:
    turns, seen = count(), set[int]()

    @QUICK
    @given(case=CALLS[label].as_strategy(generation_mode=mode))
    def send(case: Case) -> None:
        if next(turns) % 2 == 0:
            case.path_parameters = {
                name: {**REAL, "squad": squads.ours}.get(name, value)
                for name, value in (case.path_parameters or {}).items()
            }
        sign = transaction.savepoint()
        answer = answered(case, headers)
        transaction.savepoint_rollback(sign)
        seen.add(answer.status_code)
        assert answer.status_code < 500, answer.content
        if answer.status_code >= 400:
            assert answer.headers["Content-Type"] == "application/json", answer.content[:200]
            assert answer.json()["problems"], answer.content

    send()
    assert seen <= {200, 201, 400, 401, 403, 404, 405, 409, 422}
