"""What a block could be worth, in words."""

from __future__ import annotations

from speedloom.wording.units import METRIC, Units, length, share
from speedloom.workflows.what_pays import Payoff


def payoff_text(payoff: Payoff, *, units: Units = METRIC) -> str:
    """Say what two changes would do to the target, and how sure it is which gains more.

    >>> print(payoff_text(Payoff("mila", 30.0, None, 0.04, 0.02, -0.071, -0.048, 0.81)))
    over 30 m, from the model and no promise: start force +4 % −0.07 s, top speed +2 % −0.05 s;
    start force leads in 81 % of draws
    """
    gains = (
        f"start force +{share(payoff.start_force_change)} {_gain(payoff.start_force_gain, payoff)}, "
        f"top speed +{share(payoff.top_speed_change)} {_gain(payoff.top_speed_gain, payoff)}"
    )
    return f"{_target(payoff, units)}, from the model and no promise: {gains}; {_leader(payoff)}"


def _target(payoff: Payoff, units: Units) -> str:
    run = length(payoff.distance_m, units=units)
    if payoff.zone_m is None:
        return f"over {run}"
    return f"speed over {length(payoff.zone_m, units=units)} after a run-in of {run}"


def _gain(gain: float, payoff: Payoff) -> str:
    return f"{gain:+.2f} {payoff.unit}".replace("-", "−")


def _leader(payoff: Payoff) -> str:
    leads = payoff.start_force_leads
    name, sure = ("start force", leads) if leads >= 0.5 else ("top speed", 1 - leads)  # noqa: PLR2004
    return f"{name} leads in {share(round(sure, 2))} of draws"
