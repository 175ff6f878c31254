"""The athlete's own sheet."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from time import perf_counter

import pytest

from speedloom.report.sheets.athlete_sheet import athlete_sheet_pdf, week_limits
from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.session_sheet import NothingToPrintError
from speedloom.training.exercise import load_catalogue
from speedloom.wording.dates import day_month
from unit.report.pdf_reading import fonts, is_tagged, page_texts, placed_texts, read
from unit.report.sample import NAMES, programme

PAPER = Paper(date(2026, 1, 10))


def printed(people: int = 3, *, week: int = 3, athletes: tuple[str, ...] | None = None) -> bytes:
    return athlete_sheet_pdf(
        programme(people), week=week, catalogue=load_catalogue(), paper=PAPER, athletes=athletes
    )


def test_a_page_an_athlete_and_nobody_else_on_it() -> None:
    pages = page_texts(printed())
    assert [name in page for page in pages for name in NAMES[:3]] == [
        number == place for place in range(3) for number in range(3)
    ]


def test_plain_words_loads_and_targets() -> None:
    page = page_texts(printed(athletes=("ada",)))[0]
    assert "Week 3 of 4 · Mon 26 Jan to Sun 1 Feb" in page
    assert "General work: heavier sleds" in page
    assert "Also this week: Sat 31 Jan: League, home" in page
    assert "2.82 s expected, 2.77–2.87" in page
    assert "22 kg 3.60 s expected, 3.55–3.65" in page
    # Reserve and stop are the same number: said once.
    assert "2 in reserve" in page
    assert "Stop with 2 left" not in page
    assert "65 kg first two or three lighter sets" in page
    assert "3 × 8–12 each side" in page
    assert "Say at once when something hurts" in page


def test_each_athlete_s_pages_are_counted_by_themselves() -> None:
    pages = page_texts(printed(athletes=("ada", "brit", "cleo")))
    assert len(pages) == 3
    assert ["page 1 of 1" in page for page in pages] == [True, True, True]


def test_own_limits_and_no_medical_word() -> None:
    own, other = (page_texts(printed(athletes=(who,)))[0] for who in ("brit", "ada"))
    assert "Your limits, not to be passed: at most 80 % of top speed; no hop, right." in own
    assert "Your limits" not in other
    assert "Physio" not in own


def test_whoever_trains_alone_reads_what_the_warm_up_is() -> None:
    own, limited = (page_texts(printed(athletes=(who,)))[0] for who in ("ada", "brit"))
    for page in (own, limited):
        assert "Gym warm-up. Easy skip" in page
    assert "no jumps in the warm-up" not in own
    # She may not hop: said where the small jumps of the warm-up are named, too.
    assert "; no jumps in the warm-up" in limited


def test_limits_that_begin_or_end_inside_the_week_stand_with_their_days() -> None:
    whole = programme(3)
    content = whole.brief.content
    assert content is not None
    brit = content.athletes[1]
    week = whole.programmes[1].weeks[2]
    days = sorted({session.date for session in week.sessions})
    ended = brit.model_copy(
        update={
            "restrictions": tuple(
                one.model_copy(update={"until": days[0]}) for one in brit.restrictions if one.holds(days[0])
            )
        }
    )
    said = week_limits(ended, week, catalogue=load_catalogue())
    assert len(days) > 1
    assert said == f"{day_month(days[0])}: at most 80 % of top speed; no hop, right"
    assert week_limits(None, week, catalogue=load_catalogue()) == ""


def test_nobody_by_that_name_or_week() -> None:
    with pytest.raises(NothingToPrintError, match="week from 1 to 4, got zoe in week 3"):
        printed(athletes=("zoe",))
    with pytest.raises(NothingToPrintError, match="got anybody in week 9"):
        printed(week=9)


def test_on_the_paper_tagged_and_repeatable() -> None:
    made = printed(14)
    document = read(made)
    assert is_tagged(made)
    assert all(inside for _, inside in fonts(made))
    assert made == printed(14)
    for page in document.pages:
        width = float(page.mediabox.width)
        assert all(
            text.x >= 20.0 and text.x + 0.4 * text.size * len(text.text) <= width - 20.0
            for text in placed_texts(page)
        )


def test_fourteen_sheets_in_two_seconds() -> None:
    """Must show: "14 sheets' PDF ≤ 2 s"."""
    printed(1)
    start = perf_counter()
    pages = read(printed(14, week=2)).pages
    assert len(pages) == 14
    assert perf_counter() - start < 2.0


def test_many_threads_print_their_own_athlete_only() -> None:
    names = [own.athlete for own in programme(14).programmes]
    with ThreadPoolExecutor(4) as pool:
        made = list(pool.map(lambda who: printed(14, athletes=(who,)), names))
    assert [page_texts(sheet)[0].startswith(name) for name, sheet in zip(NAMES, made, strict=True)] == [
        True
    ] * 14


def test_a_sheet_says_where_to_stand_and_the_lighter_sets_and_stays_one_page() -> None:
    page = page_texts(printed(athletes=("ada",)))[0]
    assert "2.77–2.87 0.5 m behind the beam Stop: two runs over 2.96 s" in page
    assert "first two or three lighter sets" in page
    assert "no jumps in the warm-up" in page_texts(printed(athletes=("brit",)))[0]


def test_a_full_week_is_set_smaller_rather_than_spilt() -> None:
    document = programme(1)
    own = document.programmes[0]
    field, gym = own.weeks[2].sessions
    more = gym.model_copy(update={"prescriptions": gym.prescriptions[:2] + 2 * gym.prescriptions[2:]})
    week = own.weeks[2].model_copy(update={"sessions": (field, more, field)})
    full = own.model_copy(update={"weeks": (week,)})
    made = athlete_sheet_pdf(
        document.model_copy(update={"programmes": (full,)}), week=3, catalogue=load_catalogue(), paper=PAPER
    )
    assert len(page_texts(made)) == 1
