"""Two curves on one picture: both bands and lines, dates where there is room, nothing outside the frame."""

from __future__ import annotations

import re
from datetime import date

from retest_squads import FIRST, LAST
from speedloom.report.charts.before_after import TwoCurves, before_after_svg, two_curves
from speedloom.report.sheets.paper import Paper
from speedloom.report.sheets.retest_athlete import RetestPeople
from speedloom.report.sheets.retest_colleagues import retest_colleagues_pdf
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements, Split, Trial
from speedloom.training.rule import load_rulebook
from speedloom.workflows.retest import Retest, retest

SPLITS = ((5, 1.10), (10, 1.85), (20, 3.18), (30, 4.45), (40, 5.72))


def one_athlete(*, timing: tuple[str, str] = ("gates", "gates"), gates: int = 5) -> Retest:
    trials = tuple(
        Trial.model_validate({
            "athlete": "anna", "date": day, "trial": trial, "timing": how, "clock": "behind", "behind_m": 0.5,
            "splits": tuple(Split(distance_m=far, time_s=time * faster) for far, time in SPLITS[:gates]),
        })
        for day, how, faster in ((FIRST, timing[0], 1.0), (LAST, timing[1], 0.97))
        for trial in (1, 2)
    )  # fmt: skip
    return retest(Measurements(trials=trials), trial_rule="best", rulebook=load_rulebook(), people={})


def curves() -> TwoCurves:
    both = one_athlete().curve("anna")
    assert both is not None
    made = two_curves(both.before, both.after, name="Anna")
    assert made is not None
    return made


def test_both_curves_with_their_dates() -> None:
    made = curves()
    assert made.after.vmax_mps > made.before.vmax_mps
    svg = before_after_svg(made)
    assert svg.count("<path") >= 4
    assert "8 January 2026" in svg
    assert "2 April 2026" in svg
    assert made.summary in svg
    assert "8 January 2026</text>" not in before_after_svg(made, dates=False)


def test_a_page_gets_classes_and_paper_gets_attributes() -> None:
    page, paper = (before_after_svg(curves(), skin=skin) for skin in ("page", "paper"))
    assert "curve-line-before" in page
    assert "stroke-dasharray" not in page
    assert "class=" not in paper
    assert "stroke-dasharray" in paper


def test_every_point_lies_inside_the_picture() -> None:
    svg = before_after_svg(curves(), width=330.0, height=190.0)
    points = [
        (float(x), float(y))
        for path in re.findall(r' d="([^"]*L[^"]*)"', svg)
        for x, y in re.findall(r"([\d.]+) ([\d.]+)", path)
    ]
    assert len(points) > 100
    assert all(0 <= x <= 330 and 0 <= y <= 190 for x, y in points)


def test_without_curves_there_is_no_picture_and_still_a_paper() -> None:
    found = one_athlete(gates=1)
    assert found.curves == ()
    paper = retest_colleagues_pdf(
        found, people=RetestPeople({}), catalogue=load_catalogue(), rulebook=load_rulebook(),
        paper=Paper(date(2026, 4, 3)),
    )  # fmt: skip
    assert paper.startswith(b"%PDF")
    again = retest_colleagues_pdf(
        found, people=RetestPeople({}), catalogue=load_catalogue(), rulebook=load_rulebook(),
        paper=Paper(date(2026, 4, 3)),
    )  # fmt: skip
    assert again == paper


def test_tests_by_different_methods_have_no_common_picture() -> None:
    assert one_athlete(timing=("gates", "hand")).curve("anna") is None
