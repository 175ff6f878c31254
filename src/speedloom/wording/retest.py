"""Test and retest as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from textwrap import wrap

from speedloom.training.exercise import Catalogue
from speedloom.training.rule import Rulebook
from speedloom.wording.athlete_retest import done_text
from speedloom.wording.athlete_retest_left_out import left_out_lines
from speedloom.wording.athlete_retest_values import (
    between_text,
    chance_short,
    change_text,
    days_text,
    measure_name,
    setting_text,
    unit_text,
    value_text,
    verdict_words,
)
from speedloom.wording.retest_method import error_text, smallest_text, squad_text
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Change, Panel, Retest

WIDTH = 100
"""Characters of a line, at most."""
HEADS = ("athlete", "before", "after", "change", "drawn", "better", "same", "worse", "said")
LEGEND = (
    "Drawn: the change, drawn towards the squad's the more the noisier the test, ± its error; the chances\n"
    "rest on it. Better, worse: by what is worth having or more; same: by less. Top speed and\n"
    "start force are fitted to the mean of a day's trials, so they may differ a little from `profile`.\n"
    "Chances allow for the noise of the test; nothing here says why something changed."
)
START_FORCE = "N/kg: newtons of forward push for each kilogram of body mass."
NOTHING = "Nothing to compare: no athlete was tested in the same way on two days."


def retest_text(
    found: Retest,
    *,
    catalogue: Catalogue,
    rulebook: Rulebook,
    names: Mapping[str, str] | None = None,
    done: Mapping[str, DoneBetween] | None = None,
    units: Units = METRIC,
) -> str:
    """Write a table a measure, then what was done in between and what could not be compared."""
    parts = [
        "\n".join(_panel(panel, catalogue=catalogue, rulebook=rulebook, names=names or {}, units=units))
        for panel in found.panels
    ]
    between = [
        f"{(names or {}).get(ref, ref)}: {_small(done_text(counts, units=units))}"
        for ref, counts in sorted((done or {}).items())
    ]
    left = left_out_lines(found, catalogue=catalogue, names=names)
    told = [LEGEND, *([START_FORCE] if any(one.measure.kind == "f0" for one in found.panels) else ())]
    parts += ["\n".join(told) if found.panels else NOTHING, "\n".join(between), "\n".join(left)]
    return "\n\n".join(map(_wrapped, filter(None, parts))) + "\n"


def _wrapped(part: str) -> str:
    return "\n".join(
        row
        for line in part.splitlines()
        for row in wrap(
            line,
            WIDTH,
            subsequent_indent="    ",
            drop_whitespace=True,
            break_long_words=False,
            break_on_hyphens=False,
        )
    )


def _panel(
    panel: Panel, *, catalogue: Catalogue, rulebook: Rulebook, names: Mapping[str, str], units: Units
) -> Iterator[str]:
    how = setting_text(panel.setting)
    yield measure_name(panel.measure, catalogue=catalogue, units=units) + (f" ({how})" if how else "")
    yield f"  {days_text(panel)}; {unit_text(panel.measure)}"
    yield f"  typical error: {error_text(panel, rulebook=rulebook, units=units)}"
    yield f"  worth having: {smallest_text(panel, units=units)}"
    if panel.squad is not None:
        yield f"  the squad: {squad_text(panel, units=units)}"
    rows = [HEADS, *(_row(panel, change, names=names, units=units) for change in panel.changes)]
    widths = [max(len(row[at]) for row in rows) for at in range(len(HEADS))]
    # Numbers are never cut: a long name gives way.
    widths[0] = min(widths[0], max(WIDTH - sum(widths[1:]) - 2 * len(HEADS), len(HEADS[0])))
    for name, *more in rows:
        shown = name if len(name) <= widths[0] else f"{name[: widths[0] - 1].rstrip()}…"
        cells = (cell.ljust(width) for cell, width in zip((shown, *more), widths, strict=True))
        yield f"  {'  '.join(cells).rstrip()}"


def _row(panel: Panel, change: Change, *, names: Mapping[str, str], units: Units) -> tuple[str, ...]:
    measure = panel.measure
    drawn = "–"
    if panel.squad is not None and change.drawn is not None and change.drawn_sd is not None:
        error = _bare(value_text(measure, change.drawn_sd, finer=True, units=units))
        drawn = f"{_bare(change_text(measure, change.drawn, finer=True, units=units))} ± {error}"
    chances = (change.better, change.trivial, change.worse)
    return (
        names.get(change.athlete, change.athlete),
        *(_bare(value_text(measure, one.value, units=units)) for one in (change.before, change.after)),
        _bare(between_text(measure, change.before.value, change.after.value, units=units)),
        drawn,
        *("–" if one is None else chance_short(one) for one in chances),
        verdict_words(measure, change),
    )


def _bare(text: str) -> str:
    return text.partition(" ")[0]


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]
