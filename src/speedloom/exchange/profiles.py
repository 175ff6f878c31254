"""A tests file to profiles, as the command line gives them."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from speedloom.exchange.tests_file import read_tests
from speedloom.training.profile import Profile
from speedloom.training.rule import Rulebook, load_rulebook
from speedloom.workflows.profile_athlete import RefusedRun, profile_measurements, refused_runs


def profile_file(
    path: Path, *, trial_rule: Literal["best", "mean"] = "best", rulebook: Rulebook | None = None
) -> tuple[tuple[Profile, ...], tuple[RefusedRun, ...]]:
    """Read a tests file and give its profiles, and the trials that were refused.

    Raises:
        UnusableFileError: the file is wrong in shape, with every fault.
    """
    profiles = profile_measurements(
        read_tests(path), trial_rule=trial_rule, rulebook=rulebook or load_rulebook(), people={}
    )
    return profiles, refused_runs(profiles)


def profiles_json(profiles: Iterable[Profile]) -> str:
    """Write profiles as one JSON list."""
    content = [profile.model_dump(mode="json", by_alias=True) for profile in profiles]
    return json.dumps(content, ensure_ascii=False, indent=2, allow_nan=False) + "\n"
