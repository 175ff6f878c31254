"""Files of a plan: a brief with the tests beside it, resolved, with the coach's rules."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from speedloom.cli._answer import message
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import Catalogue, load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.rule import Rulebook, load_rulebook


@dataclass(frozen=True)
class Read:
    """A resolved brief, and the rulebook with its changes."""

    brief: ResolvedBrief
    rulebook: Rulebook
    catalogue: Catalogue


def read_resolved(path: Path) -> Read:
    """Read a brief and its tests.

    Raises:
        UnusableFileError: every fault of the files.
    """
    from speedloom.exchange.brief_file import read_brief_with_notes

    read = read_brief_with_notes(path)
    message(*(f"Note: {note}" for note in read.notes))
    return resolved(read.brief, read.measurements)


def resolved(brief: Brief, measurements: Measurements) -> Read:
    """Resolve a brief with its tests, by the rulebook with the brief's changes."""
    from speedloom.workflows.resolve_brief import resolve_brief

    rulebook, catalogue = load_rulebook().with_changes(brief.rules), load_catalogue()
    whole = resolve_brief(brief, measurements, rulebook=rulebook, catalogue=catalogue)
    return Read(brief=whole, rulebook=rulebook, catalogue=catalogue)
