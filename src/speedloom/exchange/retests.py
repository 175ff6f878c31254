"""Test and retest as one JSON value: measures, errors, chances, what was left out."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Change, Panel, Retest
from speedloom.workflows.retest_pairs import LeftOut
from speedloom.workflows.retest_values import DayValue, Refused

DIGITS = 4


def retest_value(found: Retest, *, done: Mapping[str, DoneBetween] | None = None) -> dict[str, Any]:
    """Give everything a retest says as plain values; changes are after minus before."""
    return {
        "trial_rule": found.trial_rule,
        "sport": found.sport,
        "rule": {"id": "change_call", "benefit": found.likely, "harm": found.unlikely},
        "measures": [_panel(panel) for panel in found.panels],
        "left_out": [_left_out(one) for one in found.left_out],
        "refused": [_refused(one) for one in found.refused],
        "done_between": {
            ref: {
                "sessions": one.sessions, "planned": one.planned, "extra_days": one.extras,
                "metres_m": _rounded(one.metres), "sets": one.sets,
            }
            for ref, one in sorted((done or {}).items())
        },
    }  # fmt: skip


def _panel(panel: Panel) -> dict[str, Any]:
    error, smallest, squad = panel.error, panel.smallest, panel.squad
    return {
        "measure": panel.measure.ref,
        "unit": panel.measure.unit,
        "setting": dict(panel.setting),
        "typical_error": None
        if error is None
        else {
            "value": _rounded(error.value), "kind": error.kind, "of": error.of,
            "repeats": None if math.isinf(error.freedom) else error.freedom, "athletes": error.athletes,
            "source": error.source, "mark": error.mark, "icc": _rounded(error.icc),
            "repeatability": _rounded(error.repeatability),
        },
        "smallest_worthwhile": None
        if smallest is None
        else {"value": _rounded(smallest.value), "how": smallest.how, "athletes": smallest.athletes},
        "squad": None
        if squad is None
        else {"mean": _rounded(squad.mean), "se": _rounded(squad.mean_sd), "spread": _rounded(squad.spread)},
        "changes": [_change(change) for change in panel.changes],
    }  # fmt: skip


def _change(change: Change) -> dict[str, Any]:
    return {
        "athlete": change.athlete,
        "before": _day(change.before),
        "after": _day(change.after),
        "raw": _rounded(change.raw),
        "difference": _rounded(change.difference),
        "se": _rounded(change.error_sd),
        "drawn": _rounded(change.drawn),
        "drawn_se": _rounded(change.drawn_sd),
        "chances": None
        if change.better is None
        else {
            "better": _rounded(change.better),
            "trivial": _rounded(change.trivial),
            "worse": _rounded(change.worse),
        },
        "verdict": change.verdict,
    }


def _day(day: DayValue) -> dict[str, Any]:
    return {
        "date": day.date.isoformat(),
        "value": _rounded(day.value),
        "trials": [_rounded(one) for one in day.trials],
    }


def _left_out(one: LeftOut) -> dict[str, Any]:
    return {
        "athlete": one.athlete,
        "measure": one.measure.ref,
        "why": one.why,
        "dates": [day.isoformat() for day in one.days],
        "changed": [{"field": c.field, "before": c.before, "after": c.after} for c in one.changed],
    }


def _refused(one: Refused) -> dict[str, Any]:
    return {
        "athlete": one.athlete, "date": one.date.isoformat(), "what": one.what, "trial": one.trial,
        "why": one.why,
    }  # fmt: skip


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)
