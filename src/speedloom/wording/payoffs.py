"""What a block could be worth, in words."""

from __future__ import annotations

from speedloom.wording.units import METRIC, Units, length, share
from speedloom.workflows.what_pays import Payoff

NEARLY_ALL = 0.995


def payoff_text(payoff: Payoff, *, units: Units = METRIC) -> str:
    """Say what two changes would gain on the target, and how sure it is which gains more.

    >>> print(payoff_text(Payoff("mila", 30.0, None, 0.04, 0.02, 0.071, 0.048, 0.81)))
    over 30 m, from the model and no promise: 4 % more start force is 0.07 s faster, 2 % more top speed
    0.05 s; start force gains more in 81 % of draws of the profile
    """
    force, speed = (_gain(one, payoff) for one in (payoff.start_force_gain, payoff.top_speed_gain))
    gains = (
        f"{share(payoff.start_force_change)} more start force is {force} faster, "
        f"{share(payoff.top_speed_change)} more top speed {speed}"
    )
    return f"{_target(payoff, units)}, from the model and no promise: {gains}; {_leader(payoff)}"


def _target(payoff: Payoff, units: Units) -> str:
    run = length(payoff.distance_m, units=units)
    if payoff.zone_m is None:
        return f"over {run}"
    return f"speed over {length(payoff.zone_m, units=units)} after a run-in of {run}"


def _gain(gain: float, payoff: Payoff) -> str:
    # A gain is a gain whichever way the target counts: fewer seconds, or more metres a second.
    return f"{abs(gain):.2f} {payoff.unit}"


def _leader(payoff: Payoff) -> str:
    leads = payoff.start_force_leads
    name, sure = ("start force", leads) if leads >= 0.5 else ("top speed", 1 - leads)  # noqa: PLR2004
    draws = "nearly all draws" if sure > NEARLY_ALL else f"{share(round(sure, 2))} of draws"
    return f"{name} gains more in {draws} of the profile"
