"""A tests file to profiles, as the command line gives them."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from speedloom.exchange.tests_file import read_tests
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import Rulebook, load_rulebook
from speedloom.workflows.profile_athlete import RefusedRun, profile_measurements, refused_runs
from speedloom.workflows.sprint_runs import TrialRule


@dataclass(frozen=True)
class ProfilesOnFile:
    """What a tests file held, and the profiles it gives."""

    measurements: Measurements
    profiles: tuple[Profile, ...]
    trial_rule: TrialRule
    rulebook: Rulebook

    @property
    def refused(self) -> tuple[RefusedRun, ...]:
        """Trials that cannot be true."""
        return refused_runs(self.profiles)

    @property
    def last_day(self) -> date:
        """Day of the newest profile; the first of days without any."""
        return max((profile.date for profile in self.profiles), default=date.min)


def read_profiles(
    path: Path, *, trial_rule: TrialRule = "best", rulebook: Rulebook | None = None
) -> ProfilesOnFile:
    """Read a tests file and fit its profiles.

    Raises:
        UnusableFileError: the file is wrong in shape, with every fault.
    """
    book = rulebook or load_rulebook()
    measurements = read_tests(path)
    profiles = profile_measurements(measurements, trial_rule=trial_rule, rulebook=book, people={})
    return ProfilesOnFile(measurements, profiles, trial_rule, book)


def profile_file(
    path: Path, *, trial_rule: TrialRule = "best", rulebook: Rulebook | None = None
) -> tuple[tuple[Profile, ...], tuple[RefusedRun, ...]]:
    """Read a tests file and give its profiles, and the trials that were refused.

    Raises:
        UnusableFileError: the file is wrong in shape, with every fault.
    """
    found = read_profiles(path, trial_rule=trial_rule, rulebook=rulebook)
    return found.profiles, found.refused


def profiles_json(profiles: Iterable[Profile]) -> str:
    """Write profiles as one JSON list."""
    content = [profile.model_dump(mode="json", by_alias=True) for profile in profiles]
    return json.dumps(content, ensure_ascii=False, indent=2, allow_nan=False) + "\n"
