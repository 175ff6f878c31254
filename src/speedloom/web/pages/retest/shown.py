"""What the retest pages show: a table a measure, two curves a person, one athlete's page in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from speedloom.report.charts.before_after import before_after_svg, two_curves
from speedloom.training.exercise import Catalogue
from speedloom.training.rule import Rulebook
from speedloom.wording.athlete_retest import CURVE_NOTE, OwnRetestWords, done_short, own_retest_words
from speedloom.wording.athlete_retest_left_out import own_left_out
from speedloom.wording.athlete_retest_values import (
    between_text,
    chance_text,
    change_text,
    days_text,
    measure_name,
    setting_text,
    value_text,
    verdict_words,
)
from speedloom.wording.dates import listing
from speedloom.wording.retest_method import count_text, error_text, method_lines, smallest_text, squad_text
from speedloom.wording.units import Units
from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Change, Panel, Retest


@dataclass(frozen=True)
class RetestBook:
    """What the words need beside the comparison."""

    names: Mapping[str, str]
    done: Mapping[str, DoneBetween]
    goal_m: float | None
    catalogue: Catalogue
    rulebook: Rulebook
    units: Units


@dataclass(frozen=True)
class ChangeRow:
    """One athlete's change in one measure."""

    athlete: str
    name: str
    before: str
    after: str
    change: str
    drawn: str
    chances: tuple[str, str, str]
    said: str


@dataclass(frozen=True)
class PanelShown:
    """A measure, how it was judged, and everybody's change."""

    ident: str
    title: str
    how: str
    days: str
    counts: str
    method: tuple[tuple[str, str], ...]
    rows: tuple[ChangeRow, ...]


@dataclass(frozen=True)
class CurveShown:
    """An athlete's two curves, and what was done in between."""

    athlete: str
    name: str
    picture: str
    done: str


@dataclass(frozen=True)
class RetestShown:
    """The squad's page."""

    panels: tuple[PanelShown, ...]
    people: tuple[CurveShown, ...]
    method: tuple[str, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True)
class OwnShown:
    """One athlete's page."""

    words: OwnRetestWords | None
    picture: str
    note: str
    left_out: tuple[str, ...]


def retest_shown(found: Retest, book: RetestBook) -> RetestShown:
    """Put a comparison into what the squad's page shows; the goal's distance stands first."""
    panels = sorted(found.panels, key=lambda panel: panel.measure.distance_m != book.goal_m)
    return RetestShown(
        panels=tuple(_panel(f"panel-{place}", panel, book) for place, panel in enumerate(panels)),
        people=tuple(_person(found, ref, book) for ref in found.athletes),
        method=method_lines(found) if found.panels else (),
        left_out=_left_out(found, book),
    )


def _left_out(found: Retest, book: RetestBook) -> tuple[str, ...]:
    """Say what cannot be compared, once for all of whom the same is said."""
    groups: dict[str, list[str]] = {}
    for ref in sorted({one.athlete for one in found.left_out} | {one.athlete for one in found.refused}):
        for line in own_left_out(found, ref, catalogue=book.catalogue):
            groups.setdefault(line, []).append(book.names.get(ref, ref))
    return tuple(f"{listing(names)}: {line}" for line, names in groups.items())


def own_shown(found: Retest, athlete: str, book: RetestBook) -> OwnShown:
    """Put one athlete's part of a comparison into plain words, or say why there is none."""
    if athlete not in found.athletes:
        return OwnShown(None, "", "", own_left_out(found, athlete, catalogue=book.catalogue))
    words = own_retest_words(
        found,
        athlete,
        name=book.names.get(athlete, athlete),
        catalogue=book.catalogue,
        goal_m=book.goal_m,
        done=book.done.get(athlete),
        units=book.units,
    )
    picture = _picture(found, athlete, book)
    return OwnShown(words, picture, CURVE_NOTE if picture else "", words.left_out)


def _panel(ident: str, panel: Panel, book: RetestBook) -> PanelShown:
    units = book.units
    method = [
        ("Typical error", error_text(panel, rulebook=book.rulebook, units=units)),
        ("Worth having", smallest_text(panel, units=units)),
    ]
    if panel.squad is not None:
        method.append(("The squad", squad_text(panel, units=units)))
    return PanelShown(
        ident=ident,
        title=measure_name(panel.measure, catalogue=book.catalogue, units=units),
        how=setting_text(panel.setting),
        days=days_text(panel),
        counts=count_text(panel),
        method=tuple(method),
        rows=tuple(_row(panel, change, book) for change in panel.changes),
    )


def _row(panel: Panel, change: Change, book: RetestBook) -> ChangeRow:
    measure, units = panel.measure, book.units
    better, trivial, worse = (
        "–" if one is None else chance_text(one) for one in (change.better, change.trivial, change.worse)
    )
    return ChangeRow(
        athlete=change.athlete,
        name=book.names.get(change.athlete, change.athlete),
        before=value_text(measure, change.before.value, units=units),
        after=value_text(measure, change.after.value, units=units),
        change=between_text(measure, change.before.value, change.after.value, units=units),
        drawn=_drawn(panel, change, units),
        chances=(better, trivial, worse),
        said=verdict_words(measure, change),
    )


def _drawn(panel: Panel, change: Change, units: Units) -> str:
    if panel.squad is None or change.drawn is None or change.drawn_sd is None:
        return "–"
    size = change_text(panel.measure, change.drawn, finer=True, units=units).partition(" ")[0]
    error = value_text(panel.measure, change.drawn_sd, finer=True, units=units)
    return f"{size} ± {error}"


def _person(found: Retest, ref: str, book: RetestBook) -> CurveShown:
    done = book.done.get(ref)
    return CurveShown(
        ref,
        book.names.get(ref, ref),
        _picture(found, ref, book),
        done_short(done, units=book.units) if done else "",
    )


def _picture(found: Retest, ref: str, book: RetestBook) -> str:
    both = found.curve(ref)
    curves = two_curves(both.before, both.after, name=book.names.get(ref, ref)) if both else None
    return before_after_svg(curves, skin="page", ident=f"two-{ref}") if curves else ""
