"""What a number is called in running text: repetitions, rest, in reserve, where a line stops."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from speedloom.wording.why_trail import Trail

NOUNS: Mapping[str, str] = {
    "contacts": "{}",
    "decrement": "about {} slower than free",
    "effort": "{} of the best speed",
    "hold_s": "hold for {}",
    "minutes": "{} of warm-up",
    "reps": "{} repetitions",
    "reps_to": "up to {} repetitions",
    "rest_reps_s": "{} of rest after each run",
    "rest_s": "{} of rest between sets",
    "rir": "{} in reserve",
    "sets": "{} sets",
    "share_1rm": "{} of the 1RM",
}
STOPS: Mapping[str, str] = {
    "time_drop": "stop when a run is {} slower than it should be",
    "velocity_loss": "end the set when the bar moves {} slower than at its fastest",
    "rir": "stop with {} in reserve",
}


def said_as(trail: Trail) -> Callable[[str], str]:
    """Give the saying of the number that is explained; a number that is named by its unit stays bare."""
    line = trail.standing.line
    saying = NOUNS.get(trail.field, "{}")
    if trail.field == "stop_rule.value" and line is not None and line.stop_rule is not None:
        saying = STOPS.get(line.stop_rule.kind, "{}")

    def say(value: str) -> str:
        unit = value.rpartition(" ")[2]
        # 6.2 contacts a set are told as they are, before they become repetitions.
        return value if unit == "contacts" else saying.format(value)

    return say
