"""Where one number comes from, in a few numbered sentences as a coach would say them.

The short answer tells the rule, the measurement with its band, the sum, the rounding and the clock. The long
one (`every step`) tells each step of the derivation, enough to redo it by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from speedloom.training.programme import Node
from speedloom.wording.why_clock import (
    coach_sentences,
    end_sentences,
    given_sentences,
    in_season_sentences,
    rest_sentences,
    specificity_sentences,
    time_sentences,
    top_share_sentences,
)
from speedloom.wording.why_counts import (
    LINE,
    contact_sentences,
    count_sentences,
    line_minutes_sentences,
    planned_sentences,
    session_minutes_sentences,
    wanted_volume_sentences,
    warm_up_sentences,
)
from speedloom.wording.why_doses import dose_sentences
from speedloom.wording.why_inputs import WhyBook, amount
from speedloom.wording.why_loads import (
    decrement_sentences,
    distance_sentences,
    is_distance,
    load_sentences,
    share_sentences,
)
from speedloom.wording.why_measured import clock_sentence
from speedloom.wording.why_sayings import said_as
from speedloom.wording.why_steps import step_sentences
from speedloom.wording.why_trail import Trail, trail_of
from speedloom.workflows.explain import Explanation

Teller = Callable[[Trail, Node], Iterator[str]]

MOST_SENTENCES = 8
"""A number without words of its own is told by its last steps, at most this many."""
TELLERS: Mapping[str, Teller] = {
    "coach": coach_sentences,
    "contacts.line": contact_sentences,
    "effort.time": time_sentences,
    "expect.high": end_sentences,
    "expect.low": end_sentences,
    "given": given_sentences,
    "kit.round_load": load_sentences,
    "repetitions.share": share_sentences,
    "resistance.decrement_at_distance": decrement_sentences,
    "rest.run": rest_sentences,
    "solver.count": count_sentences,
    "sprint.share_of_top_speed": top_share_sentences,
    "sprint.time": time_sentences,
    "sprint.zone_time": time_sentences,
    "volume.planned": planned_sentences,
    "weeks.in_season": in_season_sentences,
    "weeks.specificity": specificity_sentences,
}
"""How a number is told, by the formula of its own step."""


def why_sentences(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    """Say where a number comes from in a few sentences, with what the clock would show at the end."""
    trail = trail_of(explanation, book=book)
    teller = _teller(trail)
    told = tuple(teller(trail, trail.node)) if teller else _last_steps(explanation, book=book)
    return (*dict.fromkeys(told), *clock_sentence(trail))


def every_step(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    """Tell each step of the derivation, with what the clock would show at the end."""
    return (
        *step_sentences(explanation, book=book),
        *clock_sentence(trail_of(explanation, book=book)),
    )


def _teller(trail: Trail) -> Teller | None:
    node = trail.node
    if is_distance(node):
        return distance_sentences
    if node.by == "total":
        return _total(trail, node)
    if node.by == "product" and trail.behind(node, "share") is not None and node.unit == "share":
        return share_sentences
    if node.by == "round.up" and node.unit == "min":
        return line_minutes_sentences
    if node.by in {"round.step", "round.up", "least", "clamp"} or node.by.startswith("dose."):
        return share_sentences if trail.field == "share_1rm" else _dose
    return TELLERS.get(node.by)


def _total(trail: Trail, node: Node) -> Teller | None:
    if any(LINE.match(key) for key in node.inputs):
        return session_minutes_sentences if node.unit == "min" else wanted_volume_sentences
    if "less" in node.inputs:
        return warm_up_sentences
    return _dose if trail.behind(node, "base") is not None else None


def _dose(trail: Trail, node: Node) -> Iterator[str]:
    return dose_sentences(trail, node, said_as(trail))


def _last_steps(explanation: Explanation, *, book: WhyBook) -> tuple[str, ...]:
    told = step_sentences(explanation, book=book)
    left = len(told) - MOST_SENTENCES
    more = (f"{left + 1} steps come before these (--all tells each).",) if left > 0 else ()
    return (*more, *told[-MOST_SENTENCES + len(more) :])


def why_text(explanation: Explanation, *, book: WhyBook) -> str:
    """Write the heading and the numbered sentences of one number."""
    return why_texts((explanation,), book=book)


def why_texts(explanations: Iterable[Explanation], *, book: WhyBook) -> str:
    """Write several short answers, one after the other."""
    return "\n".join(
        _numbered(explanation, why_sentences(explanation, book=book), book=book)
        for explanation in explanations
    )


def every_step_texts(explanations: Iterable[Explanation], *, book: WhyBook) -> str:
    """Write several derivations; a step that was told under an earlier number is not told again."""
    told: set[str] = set()
    parts = []
    for explanation in explanations:
        sentences = every_step(explanation, book=book)
        new = [sentence for sentence in sentences[:-1] if sentence not in told] + [sentences[-1]]
        told.update(sentences)
        again = len(sentences) - len(new)
        parts.append(_numbered(explanation, new, again=again, book=book))
    return "\n".join(parts)


def _numbered(explanation: Explanation, sentences: Iterable[str], *, book: WhyBook, again: int = 0) -> str:
    value = amount(explanation.value, explanation.unit, units=book.units)
    note = f" (told above: {again} of its steps)" if again else ""
    lines = [f"Why {explanation.ref} is {value}{note}"]
    lines += [f"{index}. {sentence}" for index, sentence in enumerate(sentences, start=1)]
    return "\n".join(lines) + "\n"
