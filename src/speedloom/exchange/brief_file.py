"""The brief file (TOML, or JSON with the same keys): read with its tests, or refused with every fault."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from speedloom.exchange.brief_content import Content
from speedloom.exchange.brief_dates import check_dates
from speedloom.exchange.brief_people import check_people, read_all_tests
from speedloom.exchange.brief_references import check_references
from speedloom.exchange.brief_second_look import look_again
from speedloom.exchange.documents import read_json, schema_fault
from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.model_faults import faults_of
from speedloom.exchange.toml_text import read_toml
from speedloom.training.brief import SCHEMA, Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.rule import load_rulebook


@dataclass(frozen=True)
class BriefOnFile:
    """A brief as it was written, its tests, and what is worth saying about the file."""

    brief: Brief
    measurements: Measurements
    notes: tuple[str, ...]


def read_brief(path: Path) -> tuple[Brief, Measurements]:
    """Read a brief and its tests, for `workflows.resolve_brief`.

    Raises:
        UnusableFileError: every fault, each with its path and, where it can be found, its line.
    """
    found = read_brief_with_notes(path)
    return found.brief, found.measurements


def read_brief_with_notes(path: Path) -> BriefOnFile:
    """Read a brief and its tests, with notes such as an event outside the dates.

    Raises:
        UnusableFileError: every fault, each with its path and, where it can be found, its line.
    """
    content = _content(path)
    wrong = schema_fault(content.content, file=content.file, schema=SCHEMA)
    if wrong is not None and "newer" in wrong.todo:
        raise UnusableFileError([wrong])
    content.faults.extend(_structural(content))
    check_references(content, catalogue=load_catalogue(), rulebook=load_rulebook())
    check_dates(content)
    _goal(content)
    measurements = read_all_tests(content, path.parent)
    check_people(content, measurements)
    look_again(content, measurements, catalogue=load_catalogue())
    if content.faults:
        raise UnusableFileError(dict.fromkeys(content.faults))
    brief = Brief.model_validate_json(json.dumps(content.content))
    return BriefOnFile(brief, measurements, tuple(content.notes))


def _content(path: Path) -> Content:
    if path.suffix.lower() == ".json":
        content = read_json(path)
        if not isinstance(content, dict):
            wrong = schema_fault(content, file=str(path), schema=SCHEMA)
            raise UnusableFileError([wrong] if wrong else [])
        return Content(str(path), content)
    table, lines = read_toml(path)
    return Content(str(path), table, lines)


def _structural(content: Content) -> list[Fault]:
    try:
        Brief.model_validate_json(json.dumps(content.content))
    except ValidationError as error:
        return faults_of(
            error, model=Brief, file=content.file, content=content.content, row_of=content.row_of
        )
    return []


def _goal(content: Content) -> None:
    goal = content.get("goal")
    if not isinstance(goal, dict) or goal.get("distance_m") is not None:
        return
    if goal.get("kind", "sprint_time") == "sprint_time":
        todo = "add distance_m = 30, or your distance"
        content.fault(("goal",), "distance_m for a goal of sprint_time", todo, came="none")
