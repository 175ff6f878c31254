"""`speedloom profile`: what a tests file says about each athlete, with bands and warnings."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

from typer import Argument, Option

from speedloom.cli._answer import GOOD, HARD_FINDINGS, end, faults_in_words, result


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
        from speedloom.exchange.profiles import profile_file, profiles_json
        from speedloom.wording.profiles import profiles_text

        profiles, refused = profile_file(tests, trial_rule=trial.value)
    result(profiles_json(profiles) if as_json else profiles_text(profiles))
    end(HARD_FINDINGS if refused else GOOD)
