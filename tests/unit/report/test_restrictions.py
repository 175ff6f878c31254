"""Limits in the field's words."""

from __future__ import annotations

from datetime import date

import pytest

from speedloom.report.sheets.restrictions import clinician_named, limit_text, limits_text, minors_among
from speedloom.training.athlete import Athlete, Limit
from speedloom.training.exercise import load_catalogue
from unit.report.sample import programme

TODAY = date(2026, 1, 12)


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        (Limit(what="share_vmax", at_most=0.8), "at most 80 % of top speed"),
        (
            Limit(what="share_1rm", at_most=0.7, method="maximal_strength"),
            "at most 70 % of 1RM in maximal strength",
        ),
        (Limit(what="contacts", at_most=0, tag="hop", side="right"), "no hop, right"),
        # "No bound" would read as no limit at all, and "no share" as nothing.
        (Limit(what="contacts", at_most=0, tag="bound"), "no bounding"),
        (Limit(what="share_vmax", at_most=0), "no running"),
        (Limit(what="share_1rm", at_most=0), "no lifting"),
        (Limit(what="contacts", at_most=20), "at most 20 contacts"),
        (Limit(what="distance_m", at_most=20), "at most 20 m a run"),
        (Limit(what="load_kg", at_most=60, exercise="back_squat"), "at most 60 kg in Back squat"),
        (Limit(what="minutes", at_most=40), "at most 40 minutes"),
        (Limit(what="sets", at_most=0, method="plyometric"), "no plyometric"),
        (Limit(what="contacts", at_most=0), "no contacts"),
    ],
)
def test_a_limit(limit: Limit, words: str) -> None:
    assert limit_text(limit, catalogue=load_catalogue()) == words


def test_limits_hold_from_until() -> None:
    brief = programme().brief.content
    assert brief is not None
    brit = brief.athletes[1]
    catalogue = load_catalogue()
    assert (
        limits_text(brit, on=date(2026, 5, 3), catalogue=catalogue)
        == "at most 80 % of top speed; no hop, right"
    )
    assert limits_text(brit, on=date(2026, 5, 4), catalogue=catalogue) == ""
    assert limits_text(None, on=TODAY, catalogue=catalogue) == ""


def test_an_unknown_age_counts_as_young() -> None:
    adult, child = (Athlete(ref="a", born=date(year, 1, 12)) for year in (2008, 2009))
    assert not minors_among([adult], on=TODAY)
    assert minors_among([adult, child], on=TODAY)
    assert minors_among([adult, None], on=TODAY)


def test_a_clinician_is_named_by_a_restriction_of_theirs() -> None:
    assert clinician_named(programme(2))
    assert not clinician_named(programme(1))
