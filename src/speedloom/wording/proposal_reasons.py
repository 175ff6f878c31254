"""The sentences that say why a number would move, by the id of the reason."""

from __future__ import annotations

from collections.abc import Mapping

REASONS: Mapping[str, str] = {
    "logged_sets": (
        "{sets} in training, one a day: {weight} of the new number, the tested lift is the rest. "
        "It moves the load of {lines} by more than rounding, first of {first}."
    ),
    "logged_sets_alone": (
        "{sets} in training, one a day, and no test before. "
        "With it {lines} would have kilograms, first {first}."
    ),
    "sled_runs": (
        "{runs} of {people}, timed like their free sprints on this floor: {weight} of the new number, "
        "what was known before is the rest. Loads or expected times of {lines} change by more than rounding."
    ),
    "full_run": (
        "Runs of {days} lie outside what the profile expects, {side} both days. The last has {gates} gates: "
        "accepted, it stands as a test, and the newest test is what planning reads."
    ),
    "test_again": (
        "Runs of {days} lie outside what the profile expects, {side} both days. "
        "One distance cannot tell start force from top speed: test again with gates."
    ),
    "two_for_two": (
        "The last set gave {reps} repetitions for a target of {target}, {sessions} sessions running: "
        "one step up on {day} ({line})."
    ),
    "more_reserve": (
        "The last set left {rir} in reserve where {written_rir} were written, and more than asked "
        "{sessions} sessions running: one step up on {day} ({line})."
    ),
    "less_reserve": (
        "The last set left {rir} in reserve where {written_rir} were written, and fewer than asked "
        "{sessions} sessions running: one step down on {day} ({line})."
    ),
    "missed_reps": (
        "A set ended at {reps} of {fewest} repetitions with little left: one step down on {day} ({line})."
    ),
}
