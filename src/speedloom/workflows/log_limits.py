"""What cannot be true in a log, whoever did it: one range a value, for every way in which a log is read."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from speedloom.science.ranges import Range
from speedloom.science.strength.one_rep_max import LOAD

# Bounds of sense (common practice): beyond them a value is a slip, not a performance. A day has 1440 min;
# effort is the 0-10 scale of foster_2001 (read).
LIMITS: Mapping[str, Range] = MappingProxyType({
    "time_s": Range("the time of one repetition", 0.01, 600.0, "s"),
    "load_kg": LOAD,
    "distance_m": Range("the distance of one repetition", 0.01, 10_000.0, "m"),
    "reps": Range("repetitions of a set", 0.0, 200.0, ""),
    "rir": Range("repetitions in reserve", 0.0, 20.0, ""),
    "contacts": Range("contacts of a set", 0.0, 2000.0, ""),
    "effort": Range("effort", 0.0, 10.0, ""),
    "minutes": Range("minutes of a session", 0.0, 1440.0, "min"),
})  # fmt: skip
"""Unlike these, the numbers of rule `log_questions` ask only: what is asked about is kept."""
