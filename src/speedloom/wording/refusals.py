"""A trial that cannot be true: why, the two values that say so, and which unit may have been meant."""

from __future__ import annotations

from speedloom.training.profile import RefusedTrial
from speedloom.wording.names import word
from speedloom.wording.units import number, seconds

MILLISECONDS = 1000.0
SURELY_MILLISECONDS_S = 500.0
"""Nobody takes so long to the next gate of a sprint [s]: such a number counts milliseconds."""


def refusal_text(refused: RefusedTrial) -> str:
    """Say why a trial was left out, with the values."""
    said = f"trial {refused.trial} left out: {word(refused.why)}"
    if not refused.splits:
        return said
    *before, last = refused.splits
    after = f" after {before[0].distance_m:g} m in {_time(before[0].time_s)}" if before else ""
    return f"{said}, {last.distance_m:g} m in {_time(last.time_s)}{after}{_unit(refused)}"


def _time(value_s: float) -> str:
    return seconds(value_s) if value_s < SURELY_MILLISECONDS_S else f"{number(value_s)} s"


def _unit(refused: RefusedTrial) -> str:
    last = refused.splits[-1].time_s
    if last < SURELY_MILLISECONDS_S:
        return ""
    return f"; were the times in milliseconds? {number(last)} ms is {seconds(last / MILLISECONDS)}"
