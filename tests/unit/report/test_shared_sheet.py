"""The session sheet on a wall: nobody's load where it is left off, and air for two lines of words."""

from __future__ import annotations

import json
from datetime import date

import pytest

from speedloom.report.sheets.paper import Paper, PaperSize
from speedloom.report.sheets.session_sheet import session_sheet_pdf
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from unit.report.pdf_reading import page_texts, placed_texts, read
from unit.report.sample import MONDAY, programme

TUESDAY = date(2026, 1, 13)
PRINTED = date(2026, 1, 10)
CAPITAL = 0.66
"""Height of a capital in Source Sans, as a share of the type's size."""


def with_own_limits(programme: Programme, *limits: dict[str, object]) -> Programme:
    """Give the first athlete these limits, set by a coach."""
    content = programme.model_dump(mode="json", by_alias=True)
    held = {"ref": "own", "limits": list(limits), "from": str(MONDAY), "set_by": "coach", "set_as": "coach"}
    content["brief"]["content"]["athletes"][0]["restrictions"] = [held]
    return Programme.model_validate_json(json.dumps(content))


def test_without_kilograms_nobody_reads_the_load_of_another() -> None:
    bounded = with_own_limits(programme(), {"what": "load_kg", "at_most": 72.5, "exercise": "back_squat"})
    shown, hidden = (
        " ".join(
            page_texts(
                session_sheet_pdf(
                    bounded,
                    first=MONDAY,
                    last=TUESDAY,
                    catalogue=load_catalogue(),
                    paper=Paper(PRINTED),
                    kilograms=kilograms,
                )
            )
        )
        for kilograms in (True, False)
    )
    loads = {
        f"{line.load_kg:g} kg"
        for own in bounded.programmes
        for session in own.weeks[0].sessions
        for line in session.prescriptions
        if line.load_kg
    }
    assert len(loads) > 5
    assert {load for load in loads if load not in shown} == set()
    bare = hidden.replace("20 kg empty", "").replace("12 kg empty", "")
    assert {load for load in loads if load in bare} == set()
    assert "[10] Ada" in shown
    assert "[10]" not in hidden
    assert "72.5 kg" not in hidden
    assert "own load" in hidden
    assert "75 % of 1RM" in hidden
    assert "loads stand on each athlete's own sheet" in hidden
    assert "2 in reserve" in hidden


def crowded(people: int) -> Programme:
    """Give a field day of many runs, so that two bands of exercises share a page."""
    content = programme(people).model_dump(mode="json", by_alias=True)
    for own in content["programmes"]:
        lines = own["weeks"][0]["sessions"][0]["prescriptions"]
        for place, reps in ((2, 8), (3, 8)):
            lines[place]["reps"] = reps
    return Programme.model_validate_json(json.dumps(content))


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_two_lines_of_words_have_air_in_their_row(size: PaperSize) -> None:
    made = session_sheet_pdf(crowded(6), first=MONDAY, catalogue=load_catalogue(), paper=Paper(PRINTED, size))
    (page,) = read(made).pages
    found = placed_texts(page)
    stops = [text for text in found if "stop " in text.text and text.x < 200]
    gaps = [
        min(stop.y - (other.y + CAPITAL * other.size) for other in below)
        for stop in stops
        if (below := [other for other in found if other.y < stop.y and abs(other.x - stop.x) < 3])
    ]
    assert len(gaps) > 8
    # Between a row's last line and the next row's first: room for what hangs below a line, and for the rule.
    assert min(gaps) > 5.0
