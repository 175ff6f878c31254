"""A retest for colleagues: method, measures and curves on one page, everybody's numbers on the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from speedloom.report.charts.before_after import before_after_svg, two_curves
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.report.sheets.retest_athlete import RetestPeople
from speedloom.training.exercise import Catalogue
from speedloom.training.rule import Rulebook
from speedloom.wording.athlete_retest import done_short
from speedloom.wording.athlete_retest_left_out import left_out_lines
from speedloom.wording.athlete_retest_values import (
    between_text,
    chance_short,
    change_text,
    days_text,
    measure_name,
    setting_text,
    value_text,
    verdict_words,
)
from speedloom.wording.dates import full_date
from speedloom.wording.retest_method import (
    agreement_text,
    count_text,
    error_text,
    method_lines,
    smallest_text,
    squad_text,
)
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.retest import Change, Panel, Retest


@dataclass(frozen=True)
class MeasureRow:
    """A measure and how it was judged."""

    name: str
    error: str
    agreement: str
    smallest: str
    squad: str
    counts: str


@dataclass(frozen=True)
class ChangeCell:
    """One athlete's change in one measure; empty where it was not tested twice."""

    values: str
    drawn: str
    said: str
    chances: str


@dataclass(frozen=True)
class AthleteRow:
    """An athlete and a cell a measure."""

    name: str
    cells: tuple[ChangeCell | None, ...]
    done: str


@dataclass(frozen=True)
class SmallCurve:
    """A small picture under an athlete's name."""

    name: str
    svg: str
    words: str


@dataclass(frozen=True)
class RetestBook:
    """Both pages."""

    title: str
    settings: tuple[str, ...]
    tests: tuple[str, ...]
    measures: tuple[MeasureRow, ...]
    method: tuple[str, ...]
    curves: tuple[SmallCurve, ...]
    heads: tuple[str, ...]
    rows: tuple[AthleteRow, ...]
    left_out: tuple[str, ...]
    foot: str


def retest_colleagues_pdf(
    found: Retest,
    *,
    people: RetestPeople,
    catalogue: Catalogue,
    rulebook: Rulebook,
    paper: Paper,
    units: Units = METRIC,
) -> bytes:
    """Print method, numbers and curves; names stand beside numbers, so it is for colleagues only."""
    names = [measure_name(panel.measure, catalogue=catalogue, units=units) for panel in found.panels]
    book = RetestBook(
        title="Test and retest, for colleagues",
        settings=tuple(dict.fromkeys(filter(None, (setting_text(one.setting) for one in found.panels)))),
        tests=tuple(dict.fromkeys(map(days_text, found.panels))),
        measures=tuple(
            _measure(panel, name, rulebook=rulebook, units=units)
            for panel, name in zip(found.panels, names, strict=True)
        ),
        method=method_lines(found),
        curves=tuple(_curves(found, people)),
        heads=tuple(names),
        rows=tuple(_row(found, ref, people, units=units) for ref in found.athletes),
        left_out=left_out_lines(found, catalogue=catalogue, names=people.names),
        foot=f"For colleagues: names beside numbers · printed {full_date(paper.printed)}",
    )
    return pdf("retest_colleagues", book, paper=paper)


def _measure(panel: Panel, name: str, *, rulebook: Rulebook, units: Units) -> MeasureRow:
    return MeasureRow(
        name=name,
        error=error_text(panel, rulebook=rulebook, units=units),
        agreement=agreement_text(panel, units=units),
        smallest=smallest_text(panel, units=units),
        squad=squad_text(panel, units=units),
        counts=count_text(panel),
    )


def _curves(found: Retest, people: RetestPeople) -> Iterator[SmallCurve]:
    for one in found.curves:
        curves = two_curves(one.before, one.after, name=people.name(one.athlete))
        if curves:
            svg = before_after_svg(curves, ident=f"two-{one.athlete}", width=330.0, height=190.0, dates=False)
            yield SmallCurve(people.name(one.athlete), svg, curves.summary)


def _row(found: Retest, ref: str, people: RetestPeople, *, units: Units) -> AthleteRow:
    cells = tuple(
        next((_cell(panel, one, units=units) for one in panel.changes if one.athlete == ref), None)
        for panel in found.panels
    )
    done = (people.done or {}).get(ref)
    return AthleteRow(people.name(ref), cells, done_short(done, units=units) if done else "")


def _cell(panel: Panel, change: Change, *, units: Units) -> ChangeCell:
    measure = panel.measure
    before, after = (value_text(measure, one.value, units=units) for one in (change.before, change.after))
    raw = between_text(measure, change.before.value, change.after.value, units=units)
    drawn = ""
    if panel.squad is not None and change.drawn is not None and change.drawn_sd is not None:
        size = change_text(measure, change.drawn, finer=True, units=units).partition(" ")[0]
        error = value_text(measure, change.drawn_sd, finer=True, units=units).partition(" ")[0]
        drawn = f"drawn {size} ± {error}"
    three = [one for one in (change.better, change.trivial, change.worse) if one is not None]
    return ChangeCell(
        values=f"{before.partition(' ')[0]} → {after}, {raw.partition(' ')[0]}",
        drawn=drawn,
        said=verdict_words(measure, change),
        chances=" · ".join(_short(one) for one in three),
    )


def _short(chance: float) -> str:
    return chance_short(chance).removesuffix(" %")
