"""`speedloom profile`: what a tests file says about each athlete, with bands and warnings."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, refuse, result

if TYPE_CHECKING:
    from speedloom.exchange.profiles import ProfilesOnFile
    from speedloom.training.profile import Profile


class TrialRule(StrEnum):
    """Which of a day's trials a profile rests on."""

    BEST = "best"
    MEAN = "mean"


def profile_command(
    tests: Annotated[Path, Argument(help="The tests file (CSV, XLSX or ODS), one row a trial.")],
    *,
    trial: Annotated[
        TrialRule, Option(help="Rest on a day's best trial or on the mean of its trials.")
    ] = TrialRule.BEST,
    distance: Annotated[
        float,
        Option(
            "--distance", min=5.0, max=200.0, help="The run that what pays is about [m]; 30 where not given."
        ),
    ] = 30.0,
    bands: Annotated[
        bool,
        Option("--bands", help="Beside each adult what a published group ran over that distance; text only."),
    ] = False,
    as_json: Annotated[bool, Option("--json", help="One JSON value: the list of profiles.")] = False,
) -> None:
    """Fit sprint profiles with their bands, and the friction of timed sled runs.

    Exit code 1: a trial that cannot be true was left out.
    """
    with faults_in_words():
        from speedloom.exchange.profiles import profiles_json, read_profiles

        found = read_profiles(tests, trial_rule=trial.value)
        _refuse_without_runs(tests, found)
        text = profiles_json(found.profiles) if as_json else _text(found, distance, bands=bands)
    result(text)
    end(HARD_FINDINGS if found.refused else GOOD)


def _refuse_without_runs(tests: Path, found: ProfilesOnFile) -> None:
    held = found.measurements
    if held.trials or held.traces:
        return
    came = f"{len(held.lifts)} lifts and {len(held.jumps)} jumps"
    refuse([f'{tests}: expected sprint trials (a column a gate, such as "10 m"), got {came} and no run.'])


def _text(found: ProfilesOnFile, distance_m: float, *, bands: bool) -> str:
    from speedloom.wording.frictions import frictions_text
    from speedloom.wording.profiles import profiles_text
    from speedloom.workflows.sled_friction import sled_friction

    more = {ref: [line] for ref, line in _what_pays(found, distance_m).items()}
    if bands:
        for profile in found.profiles:
            more.setdefault(profile.ref, []).append(_band(found, profile, distance_m))
    sleds = sled_friction(found.measurements, trial_rule=found.trial_rule, rulebook=found.rulebook, people={})
    parts = (profiles_text(found.profiles, more=more), frictions_text(sleds))
    return "\n".join(filter(None, parts))


def _what_pays(found: ProfilesOnFile, distance_m: float) -> dict[str, str]:
    """Say what pays at each athlete's newest profile, where the test itself shows the start force."""
    from speedloom.training.brief import Goal
    from speedloom.wording.payoffs import payoff_text
    from speedloom.workflows.profile_athlete import fitted_profiles, newest_by_athlete
    from speedloom.workflows.profile_traces import fitted_traces
    from speedloom.workflows.what_pays import what_pays

    measured, rule, rulebook = found.measurements, found.trial_rule, found.rulebook
    fitted = (
        *fitted_profiles(measured, trial_rule=rule, rulebook=rulebook, people={}),
        *fitted_traces(measured.traces, trial_rule=rule, rulebook=rulebook, people={}),
    )
    shown = {profile.ref for profile in found.profiles if profile.f0_npkg is not None}
    newest = newest_by_athlete(fitted, until=found.last_day)
    profiles = tuple(one for one in newest.values() if one.ref in shown)
    payoffs = what_pays(profiles, goal=Goal(distance_m=distance_m), rulebook=found.rulebook)
    return {
        profile.ref: f"what pays {payoff_text(payoff)}"
        for profile, payoff in zip(profiles, payoffs, strict=True)
    }


def _band(found: ProfilesOnFile, profile: Profile, distance_m: float) -> str:
    from speedloom.training.norm import load_norms
    from speedloom.wording.bands import band_line
    from speedloom.workflows.reference_bands import band_beside

    own = next((one for one in found.measurements.trials if one.athlete == profile.athlete), None)
    beside = band_beside(
        load_norms(),
        sex=own.sex if own else None,
        born=own.born if own else None,
        on=profile.date,
        distance_m=distance_m,
    )
    split = next((one.time_s for one in profile.splits if one.distance_m == distance_m), None)
    return band_line(beside, own_s=split, rulebook=found.rulebook)
