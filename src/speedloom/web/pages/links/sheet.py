"""One athlete's week as the page behind a link shows it: the words of the printed sheet."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.report.sheets.athlete_sheet import week_cautions, week_limits
from speedloom.report.sheets.week_words import WeekWords, week_words
from speedloom.training.programme import AthleteProgramme, Programme, Week
from speedloom.wording.books import books_of
from speedloom.wording.names import athlete_name, athletes_of


@dataclass(frozen=True)
class OwnSheet:
    """One athlete's week, and where the weeks beside it are."""

    name: str
    programme: str
    week: WeekWords
    limits: str
    cautions: tuple[str, ...]
    revision: int
    before: int | None
    after: int | None


def own_sheet(programme: Programme, own: AthleteProgramme, week: Week) -> OwnSheet:
    """Put one athlete's week into the words of their sheet."""
    _book, catalogue = books_of(programme)
    person, content = athletes_of(programme).get(own.athlete), programme.brief.content
    numbers = [one.number for one in own.weeks]
    place = numbers.index(week.number)
    return OwnSheet(
        name=athlete_name(programme, own.athlete),
        programme=content.name if content else "",
        week=week_words(programme, week, weeks=len(numbers), catalogue=catalogue, person=person),
        limits=week_limits(person, week, catalogue=catalogue),
        cautions=week_cautions(programme, week, person, catalogue=catalogue),
        revision=programme.revision.number,
        before=numbers[place - 1] if place else None,
        after=numbers[place + 1] if place + 1 < len(numbers) else None,
    )
