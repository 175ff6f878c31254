"""The review on paper: one page a squad week, one an athlete, and nothing outside the paper."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from simulated_athletes import Person, Truth
from simulated_logs import Absence, Habits, simulate_log
from speedloom.report.sheets.paper import Paper, PaperSize
from speedloom.report.sheets.review_sheet import review_sheet_pdf
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.review_week import review
from unit.report.pdf_reading import fonts, is_tagged, page_texts, placed_texts, read
from unit.report.sample import MONDAY, NAMES, programme

ILL = Absence("brit", date(2026, 1, 26), date(2026, 2, 1), "illness")


def printed(
    people: int = 3,
    *,
    week: int | None = 3,
    size: PaperSize = "a4",
    athlete: str | None = None,
    **habits: float,
) -> bytes:
    plan = programme(people)
    return of(plan, week=week, size=size, athlete=athlete, habits=Habits(**habits))


def of(
    plan: Programme,
    *,
    week: int | None,
    athlete: str | None,
    size: PaperSize = "a4",
    habits: Habits | None = None,
    until: date | None = None,
) -> bytes:
    truth = Truth({own.athlete: Person(8.0, 8.5, mass_kg=60.0) for own in plan.programmes})
    log = simulate_log(plan, weeks=range(1, 5), seed=5, truth=truth, absences=[ILL], habits=habits)
    found = review(plan, log, week=week, rulebook=load_rulebook(), catalogue=load_catalogue(), until=until)
    return review_sheet_pdf(
        found,
        programme=plan,
        catalogue=load_catalogue(),
        paper=Paper(date(2026, 2, 9), size),
        athlete=athlete,
    )


def test_a_page_for_the_squad_and_one_an_athlete() -> None:
    pages = page_texts(printed())
    assert len(pages) == 4
    assert "Week 3: planned beside done" in pages[0]
    assert "Brit" in pages[0]
    assert "not trained (illness)" in pages[0]
    assert [NAMES[place] in pages[place + 1] for place in range(3)] == [True] * 3
    assert all("load a day: effort × minutes" in page for page in pages[1:])


def test_all_weeks_are_a_page_each_and_the_athletes_stay_one() -> None:
    pages = page_texts(printed(week=None))
    assert len(pages) == 4 + 3
    assert "All weeks" in pages[-1]


def test_one_athletes_page_names_nobody_else() -> None:
    pages = page_texts(printed(athlete="brit"))
    assert len(pages) == 1
    assert NAMES[1] in pages[0]
    assert [name for name in NAMES[:3] if name in pages[0]] == [NAMES[1]]
    assert "For the coaching staff." in pages[0]


def test_the_squads_page_is_not_for_the_wall() -> None:
    assert "it names who was ill or in pain. Keep it off the wall." in page_texts(printed())[0]


@pytest.mark.parametrize("size", ["a4", "us-letter"])
@pytest.mark.parametrize("habits", [{}, {"silent": 1.0}, {"forgotten": 0.5, "unusual": 0.5, "silent": 0.3}])
def test_one_side_whatever_was_written(size: PaperSize, habits: dict[str, float]) -> None:
    made = printed(14, size=size, **habits)
    document = read(made)
    assert len(document.pages) == 15
    assert is_tagged(made)
    assert all(inside for _, inside in fonts(made))
    for page in document.pages:
        width = float(page.mediabox.width)
        for text in placed_texts(page):
            assert text.x >= 20.0
            assert text.x + 0.35 * text.size * len(text.text) <= width - 15.0


def test_the_same_bytes_again() -> None:
    assert printed(athlete="ada") == printed(athlete="ada")


def test_a_year_is_gathered_into_one_page() -> None:
    plan = programme(1)
    own = plan.programmes[0]
    later = [
        own.weeks[3].model_copy(
            update={"number": number, "monday": MONDAY + timedelta(weeks=number - 1), "sessions": ()}
        )
        for number in range(5, 53)
    ]
    long = plan.model_copy(update={"programmes": (own.model_copy(update={"weeks": (*own.weeks, *later)}),)})
    pages = page_texts(of(long, week=None, athlete="ada", until=MONDAY + timedelta(weeks=52, days=-1)))
    assert len(pages) == 1
    assert "Weeks 1 to 40" in pages[0]
    assert "Week 40 " not in pages[0]
    assert "Week 41 " in pages[0]
