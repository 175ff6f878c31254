"""What does not go, as JSON: what, where, what was expected, what to do."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from django.core.exceptions import SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import HttpError
from ninja.errors import ValidationError as CallError

from speedloom.errors import EditError, SpeedloomError, UnknownNumberError
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.store.refusals import ConflictError, ExpiredError, NotAllowedError, NotThereError
from speedloom.training.fields import Frozen

UNPROCESSABLE = 422
_STATUS: tuple[tuple[type[Exception], int, str], ...] = (
    (NotAllowedError, 403, "ask the owner of the squad"),
    (NotThereError, 404, "list what there is one address above"),
    (UnknownNumberError, 404, "the programme's document holds every ref"),
    (Http404, 404, "the page of the API lists every address"),
    (ConflictError, 409, "read it again and make the change from what stands there now"),
    (ExpiredError, 410, "ask for a new one"),
    (SuspiciousOperation, 400, "send less, or split it"),
)


class Problem(Frozen):
    """One thing that does not go."""

    what: str
    where: str
    expected: str
    todo: str


class Problems(Frozen):
    """Everything that does not go with one call; nothing of it was done."""

    problems: tuple[Problem, ...]


def answered(status: int, problems: Sequence[Problem]) -> HttpResponse:
    """Answer with problems."""
    text = Problems(problems=tuple(problems)).model_dump_json()
    return HttpResponse(text, status=status, content_type="application/json")


def refused(request: HttpRequest, status: int, what: str, *, todo: str = "") -> HttpResponse:
    """Answer with one problem of the whole call."""
    return answered(status, [Problem(what=what, where=request.path, expected="", todo=todo)])


def teach(api: NinjaAPI) -> None:
    """Tell the API how each kind of error is answered."""

    @api.exception_handler(UnusableFileError)
    def unusable(_: HttpRequest, error: UnusableFileError) -> HttpResponse:
        return answered(UNPROCESSABLE, [_of_fault(fault) for fault in error.faults])

    @api.exception_handler(EditError)
    def not_changed(request: HttpRequest, error: EditError) -> HttpResponse:
        return answered(UNPROCESSABLE, [_of_line(line, request.path) for line in str(error).splitlines()])

    @api.exception_handler(CallError)
    def not_understood(_: HttpRequest, error: CallError) -> HttpResponse:
        return answered(UNPROCESSABLE, [_of_part(one) for one in error.errors])

    @api.exception_handler(HttpError)
    def refused_by_door(request: HttpRequest, error: HttpError) -> HttpResponse:
        return refused(request, error.status_code, str(error), todo="make a key on the page of the API")

    @api.exception_handler(SpeedloomError)
    def other(request: HttpRequest, error: SpeedloomError) -> HttpResponse:
        return refused(request, UNPROCESSABLE, str(error))

    for kind, status, todo in _STATUS:
        api.add_exception_handler(kind, _handler(status, todo))


def _handler(status: int, todo: str) -> Any:  # noqa: ANN401 - as ninja types it
    def handle(request: HttpRequest, error: Exception) -> HttpResponse:
        return refused(request, status, str(error) or "Nothing is here.", todo=todo)

    return handle


def _of_fault(fault: Fault) -> Problem:
    what = f"got {fault.what_came}" if fault.what_came else "got nothing"
    return Problem(what=what, where=fault.column, expected=fault.expected, todo=fault.todo)


def _of_line(line: str, path: str) -> Problem:
    where, colon, what = line.partition(": ")
    return Problem(what=what if colon else line, where=where if colon else path, expected="", todo="")


def _of_part(one: dict[str, Any]) -> Problem:
    came = json.dumps(one.get("input"), default=str, ensure_ascii=False)[:60]
    where = ".".join(str(part) for part in one["loc"])
    return Problem(what=f"got {came}" if "input" in one else "", where=where, expected=one["msg"], todo="")
