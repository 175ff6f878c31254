"""The programme book."""

from __future__ import annotations

import json
from datetime import date

import pytest

from speedloom.checking.finding import Finding, Findings
from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.programme_book import programme_book_pdf
from speedloom.report.sheets.session_sheet import NothingToPrintError
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.units import METRIC, Units
from unit.report.pdf_reading import fonts, is_tagged, page_texts
from unit.report.sample import programme as sample

PAPER = Paper(date(2026, 1, 10))


def with_restrictions(made: Programme, held: list[dict[str, object]]) -> Programme:
    """Give the first athlete these restrictions."""
    content = made.model_dump(mode="json", by_alias=True)
    content["brief"]["content"]["athletes"][0]["restrictions"] = held
    return Programme.model_validate_json(json.dumps(content))


def printed(
    *,
    programme: Programme | None = None,
    athletes: tuple[str, ...] | None = ("ada",),
    findings: Findings | None = None,
    weeks: int = 12,
    units: Units = METRIC,
) -> bytes:
    return programme_book_pdf(
        programme or sample(3, weeks),
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
    assert (
        "expect 3.60 s (3.55–3.65), 0.5 m behind the beam · Stop: two runs over 3.78 s · 25 % slower than"
        in page
    )
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


def test_each_week_shows_the_limits_of_that_week_with_their_dates() -> None:
    limits = [{"what": "share_vmax", "at_most": 0.8}, {"what": "contacts", "at_most": 0}]
    calf = {"ref": "calf", "limits": limits, "set_by": "A. Physio", "set_as": "clinician"}
    knee = {"ref": "knee", "limits": [{"what": "contacts", "at_most": 0, "tag": "hop"}], "set_by": "Coach"}
    held = [
        {**knee, "set_as": "coach", "from": "2026-02-09"},
        {**calf, "from": "2026-01-20", "until": "2026-01-27"},
    ]
    pages = page_texts(printed(programme=with_restrictions(sample(1, 6), held), weeks=6))
    cover, weeks = pages[0], pages[2:8]
    dated = "at most 80 % of top speed; no contacts (Tue 20 Jan to Tue 27 Jan)"
    lasting = "no hop (from Mon 9 Feb until it is lifted)"
    assert [dated in week for week in weeks] == [False, True, True, False, False, False]
    assert [lasting in week for week in weeks] == [False, False, False, False, True, True]
    assert ["Limits this week" in week for week in weeks] == [False, True, True, False, True, True]
    assert dated in cover
    assert lasting in cover
    assert "Physio" not in " ".join(pages)


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
