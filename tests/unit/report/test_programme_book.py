"""The programme book."""

from __future__ import annotations

from datetime import date

import pytest

from speedloom.checking.finding import Finding, Findings
from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.programme_book import programme_book_pdf
from speedloom.report.sheets.session_sheet import NothingToPrintError
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.wording.units import METRIC, Units
from unit.report.pdf_reading import fonts, is_tagged, page_texts
from unit.report.sample import programme

PAPER = Paper(date(2026, 1, 10))


def printed(
    *,
    athletes: tuple[str, ...] | None = ("ada",),
    findings: Findings | None = None,
    weeks: int = 12,
    units: Units = METRIC,
) -> bytes:
    return programme_book_pdf(
        programme(3, weeks),
        catalogue=load_catalogue(),
        rulebook=load_rulebook(),
        paper=PAPER,
        findings=findings,
        athletes=athletes,
        units=units,
    )


def test_what_the_check_says_stands_in_the_reader_s_units() -> None:
    rises = Findings(
        (
            Finding(
                rule="fast_metres_rise",
                weight="warning",
                number="rise",
                athlete="ada",
                week=3,
                value=126.93,
                limit=95.1,
                unit="m",
            ),
        )
    )
    yards = " ".join(page_texts(printed(findings=rises, units=Units(mass="lb", length="yd"))))
    assert "139 yd at 90 % and faster in the week, at most 104 yd" in yards
    assert "127 m at 90 % and faster in the week" in " ".join(page_texts(printed(findings=rises)))


def test_cover_table_a_page_a_week_and_what_it_rests_on() -> None:
    pages = page_texts(printed())
    assert len(pages) == 1 + 1 + 12 + 1
    assert "Spring tournament build Ada Maarleveld" in pages[0]
    assert "Mesocycle 3 · specific" in pages[0]
    assert "Ada Maarleveld: week by week" in pages[1]
    assert [f"Week {number} of 12" in page for number, page in enumerate(pages[2:14], start=1)] == [True] * 12
    assert "Care" in pages[14]
    assert "Assumed, because nobody said otherwise • Ada Maarleveld: level." in pages[14]


def test_everybody_when_nobody_is_named() -> None:
    pages = page_texts(printed(athletes=None, weeks=4))
    assert len(pages) == 3 * (1 + 1 + 4) + 1


def test_progression_shows_each_week() -> None:
    table = page_texts(printed())[1]
    assert "Back squat 4 × 8 60 kg 4 × 8 62.5 kg" in table
    assert table.count("lighter") == 2 + 1


def test_week_page_has_loads_targets_and_why() -> None:
    page = page_texts(printed())[4]
    assert "22 kg" in page
    assert "expect 3.60 s (3.55–3.65), 0.5 m behind · Stop: two runs over 3.78 s · 25 % slower than" in page
    assert "75 % of 1RM" in page
    assert "League, home" in page


def test_what_the_check_says_stands_at_its_week_and_advice_does_not() -> None:
    rule = load_rulebook().rules[0]
    fields = {
        "rule": rule.id,
        "number": "",
        "session": None,
        "line": None,
        "value": None,
        "limit": None,
        "unit": "",
    }
    findings = Findings(
        (
            Finding(weight="warning", athlete="ada", week=3, **fields),
            Finding(weight="advice", athlete="ada", week=4, **fields),
            Finding(weight="hard", athlete="brit", week=5, **fields),
        )
    )
    pages = page_texts(printed(findings=findings))
    assert [place for place, page in enumerate(pages) if "To look at: " in page] == [4]
    assert not any("Must be changed" in page for page in pages)


def test_pictures_are_told_in_words_and_fonts_are_inside() -> None:
    made = printed(weeks=4)
    assert is_tagged(made)
    inside = dict(fonts(made))
    assert all(inside.values())
    assert all("SourceSansPro" in name for name in inside)
    assert made == printed(weeks=4)


def test_nobody_by_that_name() -> None:
    with pytest.raises(NothingToPrintError, match="Expected an athlete of the programme, got zoe"):
        printed(athletes=("zoe",))
