"""What a coach should know about a profile, in plain words."""

from __future__ import annotations

import math
from itertools import pairwise

from speedloom.training.measurement import Trial
from speedloom.training.profile import ProfileWarning
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.sprint_runs import Runs, SprintDay

# A residual this many times the timing noise is a moved gate or a typing error rather than noise.
_POOR_FIT_SD = 4.0
_NEAR_TOP_SPEED = 0.90
_CLOCKS = {
    "movement": "a clock started by the athlete",
    "unknown": "an unknown start",
    "behind": "a start behind the beam",
    "gun": "a gun start",
}
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")
_MESSAGES = {
    "gun_without_reaction": "A gun start without a reaction time: the clock's offset is fitted.",
    "hand_timed": "Timed by hand: never compare these times with gates.",
    "height_assumed": "The height is assumed; it changes the air drag a little.",
    "mass_assumed": "The body mass is assumed; it changes the air drag a little.",
    "mixed_clocks": "Trials with other starts of the clock on this day: only those of the best one count.",
    "no_usable_trials": "No trial of this day can be used.",
}


def _message(name: str) -> ProfileWarning:
    return ProfileWarning(id=name, message=_MESSAGES[name])


def day_warnings(day: SprintDay) -> tuple[ProfileWarning, ...]:
    """Say what is notable about a day's trials."""
    first = day.trials[0]
    ids = {
        "no_usable_trials": day.runs is None,
        "mixed_clocks": len({(trial.clock, trial.behind_m) for trial in day.trials}) > 1,
        "hand_timed": first.timing == "hand",
        "gun_without_reaction": day.runs is not None
        and day.runs.clock == "gun"
        and day.runs.model == "unknown",
    }
    return (*_flying(day), *(_message(name) for name, holds in ids.items() if holds))


def _flying(day: SprintDay) -> tuple[ProfileWarning, ...]:
    """Say the speed of a day's fastest flying run, and that nothing more is made of it."""
    runs = {one.trial for one in day.refused if one.why == "flying_start"}
    zones = [zone for trial in day.trials if trial.trial in runs for zone in _zones(trial)]
    if not zones:
        return ()
    speed, metres = max(zones)
    text = (
        f"Flying run of {metres:g} m: {speed:.2f} m/s. It says nothing about the start: "
        "it is left out of the profile, and no distance or time is planned from it."
    )
    return (ProfileWarning(id="flying_start", message=text),)


def _zones(trial: Trial) -> list[tuple[float, float]]:
    """Give speed [m/s] and length [m] of each zone of a flying run; a time of nought has no speed."""
    gates = [(0.0, 0.0), *sorted((split.distance_m, split.time_s) for split in trial.splits)]
    return [
        ((there - here) / (after - before), there - here)
        for (here, before), (there, after) in pairwise(gates)
        if after > before
    ]


def fit_warnings(fitted: FittedProfile, runs: Runs, *, force_shown: bool) -> tuple[ProfileWarning, ...]:
    """Say what is notable about a fit."""
    around = fitted.around
    found = [
        _message(name)
        for name, holds in (("mass_assumed", around.mass_assumed), ("height_assumed", around.height_assumed))
        if holds
    ]
    gates = _NUMBERS[fitted.gates] if fitted.gates < len(_NUMBERS) else str(fitted.gates)
    test = f"{gates} gate{'' if fitted.gates == 1 else 's'} and {_CLOCKS[fitted.clock]}"
    if not force_shown:
        text = f"{test}: force is not shown."
        found.append(ProfileWarning(id="too_few_gates_for_f0", message=text, field="f0_npkg"))
    if fitted.prior != "none":
        text = f"{test}: the fit leans on what is known about sprinters in general."
        found.append(ProfileWarning(id="prior_used", message=text))
    if fitted.share_at_last_gate < _NEAR_TOP_SPEED:
        share = math.floor(100 * fitted.share_at_last_gate)
        text = f"Only {share} % of top speed is reached at the last gate: top speed is extrapolated."
        found.append(ProfileWarning(id="top_speed_beyond_last_gate", message=text, field="vmax_mps"))
    return (*found, *_poor_fit(fitted, runs))


_LARGEST = {
    "f0_npkg": ("A start force", "N/kg"),
    "pmax_wpkg": ("A power", "W/kg"),
    "vmax_mps": ("A top speed", "m/s"),
}


def beyond_sprinters(
    fitted: FittedProfile, *, rulebook: Rulebook, force_shown: bool
) -> tuple[ProfileWarning, ...]:
    """Say which numbers are larger than elite sprinters show: a wrong unit or start of the clock first."""
    found = []
    for name, (what, unit) in _LARGEST.items():
        most, value = rulebook.number("plausible_profile", name), getattr(fitted, name).value
        if value > most and (force_shown or name == "vmax_mps"):
            text = (
                f"{what} of {value:.1f} {unit} is beyond elite sprinters (at most {most:g} {unit}): "
                "were the splits in yards, or did the clock start late?"
            )
            found.append(ProfileWarning(id="beyond_sprinters", message=text, field=name))
    return tuple(found)


def _poor_fit(fitted: FittedProfile, runs: Runs) -> tuple[ProfileWarning, ...]:
    misses = [
        (abs(time + runs.early_s - fit), at)
        for at, time, fit in zip(runs.distances_m, runs.times_s, fitted.fitted_s, strict=True)
    ]
    worst, at = max(misses)
    if worst <= _POOR_FIT_SD * fitted.around.timing_sd_s:
        return ()
    text = f"The time at {at:g} m is {worst:.3f} s off the fitted run: check the gate and the sheet."
    return (ProfileWarning(id="poor_fit", message=text, field="splits"),)
