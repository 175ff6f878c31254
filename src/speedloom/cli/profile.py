"""`speedloom profile`: what a tests file says about each athlete, with bands and warnings."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

from typer import Argument, Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, result, result_json


class TrialRule(StrEnum):
    """Which of a day's trials a profile rests on."""

    BEST = "best"
    MEAN = "mean"


def profile_command(
    tests: Annotated[Path, Argument(help="The tests file (CSV), one row a trial.")],
    *,
    trial: Annotated[
        TrialRule, Option(help="Rest on a day's best trial or on the mean of its trials.")
    ] = TrialRule.BEST,
    as_json: Annotated[bool, Option("--json", help="One JSON value: the list of profiles.")] = False,
) -> None:
    """Fit sprint profiles with their bands. Exit code 1: a trial that cannot be true was left out."""
    with faults_in_words():
        from speedloom.exchange.tests_file import read_tests
        from speedloom.training.rule import load_rulebook
        from speedloom.wording.profiles import profiles_text
        from speedloom.workflows.profile_athlete import profile_measurements

        profiles = profile_measurements(
            read_tests(tests), trial_rule=trial.value, rulebook=load_rulebook(), people={}
        )
    if as_json:
        result_json([profile.model_dump(mode="json") for profile in profiles])
    else:
        result(profiles_text(profiles))
    end(HARD_FINDINGS if any(profile.trials.refused for profile in profiles) else GOOD)
