"""What an athlete reads of a measure that went the other way than the one the page begins with."""

from __future__ import annotations

from collections.abc import Sequence

from speedloom.training.exercise import Catalogue
from speedloom.wording.athlete_retest_values import measure_name, value_text, verdict_text
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.retest import Change, Panel

OTHER_WAY = "{what} went the other way: {first}, then {now}. {said}."
START_FORCE = (
    "Start force is how hard you push forward at standstill: N/kg are newtons for each kilogram of body mass."
)


def other_way(
    own: Sequence[tuple[Panel, Change]],
    main: tuple[Panel, Change],
    *,
    catalogue: Catalogue,
    units: Units = METRIC,
) -> tuple[str, ...]:
    """Name each measure that changed against the main one by what counts as a change, with its verdict."""
    way = _way(*main)
    return tuple(
        OTHER_WAY.format(
            what=measure_name(panel.measure, catalogue=catalogue, units=units),
            first=value_text(panel.measure, change.before.value, units=units),
            now=value_text(panel.measure, change.after.value, units=units),
            said=_capital(verdict_text(panel.measure, change)),
        )
        for panel, change in own
        if way * _way(panel, change) < 0 and _counts(panel, change)
    )


def notes(own: Sequence[tuple[Panel, Change]]) -> tuple[str, ...]:
    """Explain a unit that is met on the page."""
    return (START_FORCE,) if any(panel.measure.kind == "f0" for panel, _ in own) else ()


def _way(panel: Panel, change: Change) -> float:
    """Say whether a measure went the better way (above 0) or not: a shorter time is better."""
    return panel.measure.sign * change.raw


def _counts(panel: Panel, change: Change) -> bool:
    if change.verdict in {"better", "worse"}:
        return True
    return panel.smallest is not None and abs(change.raw) >= panel.smallest.value


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
