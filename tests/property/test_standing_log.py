"""What stands does not depend on the order of a log, nor on how often it was sent."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from log_entries import entry, key, log_of
from small_programme import small_programme
from speedloom.workflows.standing_log import StandingLog, standing_log

PROGRAMME = small_programme()
WHAT = st.sampled_from([
    ("mila-200", None, None, "2026-01-19"),
    ("mila-200", "mila-203", "sled_sprint", "2026-01-19"),
    ("mila-200", "mila-999", "sled_sprint", "2026-01-19"),
    ("mila-250", "mila-252", "back_squat", "2026-01-22"),
    (None, None, "hop", "2026-01-20"),
])  # fmt: skip


@st.composite
def entries(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Draw entries that replace each other at random, by id, earlier or later, known or not."""
    made = []
    for number in range(draw(st.integers(1, 8))):
        session, line, exercise, day = draw(WHAT)
        words = ["extra"] if session is None else ["done", "absent", "skipped"]
        moment = f"2026-01-25T{draw(st.integers(10, 12))}:00:00{draw(st.sampled_from(['Z', '+01:00']))}"
        made.append(
            entry(number, session=session, line=line, exercise=exercise, date=day, at=moment,
                  status=draw(st.sampled_from(words)),
                  replaces=draw(st.one_of(st.none(), st.integers(0, 9).map(key))))
        )  # fmt: skip
    return made


def said(log: StandingLog) -> list[tuple[object, ...]]:
    return [
        (one.entry.id, one.place, one.session and one.session.ref, one.line and one.line.ref)
        for one in log.entries
    ]


@given(entries(), st.randoms(use_true_random=False))
def test_order_and_repeated_sending_change_nothing(made: list[dict[str, Any]], random: Any) -> None:  # noqa: ANN401
    once = standing_log(log_of(*made), PROGRAMME)
    shuffled = [*made, *made[:3]]
    random.shuffle(shuffled)
    again = standing_log(log_of(*shuffled), PROGRAMME)
    assert said(again) == said(once)
    assert again.lost_days("mila") == once.lost_days("mila")


@given(entries())
def test_every_entry_is_answered_for_by_one_that_stands(made: list[dict[str, Any]]) -> None:
    log = standing_log(log_of(*made), PROGRAMME)
    standing = {one.entry.id for one in log.entries}
    replaced = {one["replaces"] for one in made if one["replaces"] != one["id"]}
    assert standing, "corrections never empty a log"
    for one in made:
        if one["replaces"] is None and one["id"] not in replaced:
            assert one["id"] in standing
    moments = [(one.entry.date, one.entry.at, one.entry.id) for one in log.entries]
    assert moments == sorted(moments)


@given(entries())
def test_what_stands_stands_again(made: list[dict[str, Any]]) -> None:
    first = standing_log(log_of(*made), PROGRAMME)
    kept = [one.entry.model_dump(mode="json") for one in first.entries]
    known = {one["id"] for one in kept}
    chains = [one for one in kept if one["replaces"] not in known - {one["id"]}]
    assert len(chains) == len(kept), "no entry stands beside one that it replaces"
