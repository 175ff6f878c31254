"""What the uncertainty of profile and friction adds to a time: slopes by central differences."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from speedloom.checking.inputs import Inputs
from speedloom.checking.recompute.arguments import Arguments, NotComputableError, number
from speedloom.checking.recompute.motion import BATCHES, Array
from speedloom.training.programme import Node

_STEP = 0.001
_BAND_SDS = 3.289708
_TIMES = ("sprint.time", "sprint.zone_time")


@dataclass(frozen=True)
class TimeOf:
    """The motion behind a time, and the factor that an effort puts on it."""

    by: str
    arguments: Arguments
    factor: float = 1.0


def time_of(inputs: Inputs, ref: str, factor: float = 1.0) -> TimeOf:
    """Find the motion behind a time node, through shares of effort.

    Raises:
        NotComputableError: the node is no time by the equation of motion.
    """
    node = inputs.nodes.get(ref)
    if node is not None and node.by in _TIMES:
        return TimeOf(node.by, inputs.arguments(node), factor)
    if node is not None and node.by == "effort.time":
        effort = number(inputs.arguments(node), "effort")
        return time_of(inputs, node.inputs["time_s"], factor / effort)
    msg = f"{ref} is no time by the equation of motion"
    raise NotComputableError(msg)


def spread_of(inputs: Inputs, ref: str) -> float:
    """Standard deviation of a node by its 90 % band.

    Raises:
        NotComputableError: the node has no band.
    """
    node = inputs.nodes.get(ref)
    if node is None or node.low is None or node.high is None:
        msg = f"{ref} has no band"
        raise NotComputableError(msg)
    return (node.high - node.low) / _BAND_SDS


def _slopes(times: Sequence[TimeOf], name: str) -> Array:
    """Change of each time per unit of one argument."""
    values = np.array([number(one.arguments, name) for one in times])
    late, early = (_times(times, name, values * (1.0 + step)) for step in (_STEP, -_STEP))
    factors = np.array([one.factor for one in times])
    return np.asarray(factors * (late - early) / (2.0 * _STEP * values))


def _times(times: Sequence[TimeOf], name: str, values: Array) -> Array:
    moved = [{**one.arguments, name: float(value)} for one, value in zip(times, values, strict=True)]
    found = np.zeros(len(times))
    for by in _TIMES:
        chosen = [index for index, one in enumerate(times) if one.by == by]
        if chosen:
            found[chosen] = BATCHES[by]([moved[index] for index in chosen])
    return found


def profile_spread(inputs: Inputs, nodes: Sequence[Node]) -> Array:
    """What the profile's uncertainty adds (s)."""
    times = [time_of(inputs, node.inputs["time_s"]) for node in nodes]
    force, speed = (
        _slopes(times, name) * np.array([spread_of(inputs, node.inputs[name]) for node in nodes])
        for name in ("f0_npkg", "v0_mps")
    )
    together = np.array([number(inputs.arguments(node), "correlation") for node in nodes])
    return np.asarray(np.sqrt(np.maximum(0.0, force**2 + speed**2 + 2.0 * together * force * speed)))


def friction_spread(inputs: Inputs, nodes: Sequence[Node]) -> Array:
    """What friction's uncertainty adds (s)."""
    times = [time_of(inputs, node.inputs["time_s"]) for node in nodes]
    sds = np.array([spread_of(inputs, node.inputs["friction"]) for node in nodes])
    return np.asarray(sds * np.abs(_slopes(times, "friction")))


SPREADS: dict[str, Callable[[Inputs, Sequence[Node]], Array]] = {
    "expect.profile_spread": profile_spread,
    "expect.friction_spread": friction_spread,
}
