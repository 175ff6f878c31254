"""The books a programme is read with: its rulebook, and the exercises by the coach's own titles."""

from __future__ import annotations

from speedloom.training.exercise import Catalogue, load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook, load_rulebook
from speedloom.wording.names import with_own_titles


def books_of(programme: Programme) -> tuple[Rulebook, Catalogue]:
    """Give the rulebook with the changes a programme carries, and the catalogue with the coach's titles."""
    content = programme.brief.content
    book = load_rulebook().with_changes(content.rules if content else ())
    return book, with_own_titles(load_catalogue(), programme)
