"""What calls take and give beside the documents, and how both are read and written."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Annotated, TypeVar

from django.http import HttpRequest, HttpResponse
from pydantic import BaseModel, Field, ValidationError

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.model_faults import faults_of
from speedloom.store.cards import ProgrammeCard
from speedloom.training.fields import Frozen
from speedloom.training.log import LogEntry
from speedloom.training.programme import Node

JSON = "application/json"
MOST_CHANGES, MOST_ENTRIES = 500, 5000
Sent = TypeVar("Sent", bound=BaseModel)


class ChangeSent(Frozen):
    """One change: a line's number or cue, a session's date or start; or a lock."""

    ref: str
    field: str = ""
    value: float | str | None = None
    lock: bool | None = None


class ChangesSent(Frozen):
    """Changes made together, as one revision after the one with the digest `after`."""

    after: str
    reason: Annotated[str, Field(min_length=1)]
    changes: Annotated[tuple[ChangeSent, ...], Field(min_length=1, max_length=MOST_CHANGES)]


class EntriesSent(Frozen):
    """Entries of a log; their ids are made where they are typed, so that sending again is safe."""

    entries: Annotated[tuple[LogEntry, ...], Field(min_length=1, max_length=MOST_ENTRIES)]


class NotKept(Frozen):
    """An entry that is not stored or is asked about, and what is to be said of it."""

    id: str
    why: str


class EntriesKept(Frozen):
    """What became of entries: forget those stored and known; a clashing id is another entry's already.

    Those refused are not stored. Those asked about are, as they were sent and marked unusual.
    """

    stored: tuple[str, ...]
    known: tuple[str, ...]
    clashing: tuple[str, ...]
    refused: tuple[NotKept, ...]
    asked: tuple[NotKept, ...]


class MeasurementsKept(Frozen):
    """How many measurements were sent, and how many of them are new."""

    sent: int
    new: int


class FindingSaid(Frozen):
    """A rule that is not kept, with its sentence."""

    rule: str
    weight: str
    athlete: str | None
    week: int | None
    session: str | None
    line: str | None
    sentence: str


class Checked(Frozen):
    """What the check finds, hard findings first."""

    hard: int
    warnings: int
    advice: int
    findings: tuple[FindingSaid, ...]


class Changed(Frozen):
    """The programme as it is now, what changed in words, and what the check says that it did not before."""

    programme: ProgrammeCard
    changed: tuple[str, ...]
    findings: tuple[FindingSaid, ...]


class StepTold(Frozen):
    """One step of a derivation."""

    id: str
    node: Node


class WhyTold(Frozen):
    """How one number came about, inputs before results, and the same in sentences."""

    ref: str
    value: float | str | None
    unit: str
    text: str
    steps: tuple[StepTold, ...]


def read(request: HttpRequest, model: type[Sent]) -> Sent:
    """Read what was sent.

    Raises:
        UnusableFileError: every fault, each with its path.
    """
    body = request.body
    if b"\0" in body or b"\\u0000" in body:
        expected = "text without the sign NUL, which no database keeps"
        raise UnusableFileError([Fault("body", None, "", "NUL", expected, "leave it out")])
    try:
        return model.model_validate_json(body)
    except ValidationError as error:
        raise UnusableFileError(faults_of(error, model=model, file="body", content=_plain(body))) from error


def _plain(body: bytes) -> object:
    try:
        return json.loads(body)
    except (ValueError, RecursionError):
        return None


def give(document: BaseModel) -> HttpResponse:
    """Answer with one document."""
    return HttpResponse(document.model_dump_json(by_alias=True), content_type=JSON)


def give_all(documents: Iterable[BaseModel]) -> HttpResponse:
    """Answer with a list of documents."""
    text = ",".join(one.model_dump_json(by_alias=True) for one in documents)
    return HttpResponse(f"[{text}]", content_type=JSON)
