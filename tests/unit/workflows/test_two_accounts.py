"""Two values of one repetition: found whoever wrote them, and settled without losing either."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from log_entries import entry, key, log_of, result
from speedloom.training.log import LogEntry
from speedloom.workflows.standing_log import standing_entries
from speedloom.workflows.two_accounts import accounts, chosen, differing, last_entries

LINE = {"line": "mila-203", "exercise": "sled_sprint"}
NOW = datetime(2026, 1, 19, 20, tzinfo=UTC)
IDS = [key(number) for number in range(900, 910)]


def written(number: int, *times: float | None, minute: int = 0, **fields: object) -> LogEntry:
    results = [result(rep=rep, time_s=time) for rep, time in enumerate(times, start=1) if time != 0]
    at = f"2026-01-19T18:{minute:02d}:00+01:00"
    content: dict[str, Any] = {**LINE, "at": at, "results": results, **fields}
    return log_of(entry(number, **content)).entries[0]


def test_equal_values_and_a_tick_beside_a_time_go_together() -> None:
    assert differing([written(1, 3.5), written(2, 3.5), written(3, None)]) == ()


def test_two_values_are_found_with_both_entries_oldest_first() -> None:
    (two,) = differing([written(2, 3.7, minute=5), written(1, 3.5)])
    assert [one.entry.id for one in two.accounts] == [key(1), key(2)]
    assert two.place == ("mila", "mila-203", "", 1, 1)


def test_a_correction_is_no_second_value_and_two_corrections_are() -> None:
    first, mended = written(1, 3.5), written(2, 3.6, minute=1, replaces=key(1))
    assert differing([first, mended]) == ()
    assert last_entries([first, mended]) == (mended,)
    assert len(differing([first, mended, written(3, 3.7, minute=2, replaces=key(1))])) == 1


@pytest.mark.parametrize("right", [1, 2])
def test_the_chosen_value_stands_in_both_and_the_rest_stays(right: int) -> None:
    both = [written(1, 3.5, 3.6), written(2, 3.7, 0, 3.9, minute=5)]
    (two,) = differing(both)
    (new,) = chosen(two, key(right), by="coach", at=NOW, ids=IDS)
    assert new.replaces == key(3 - right)
    assert differing([*both, new]) == ()
    said = {place[-1]: one[-1].result.time_s for place, one in accounts([*both, new]).items()}
    assert said == {1: both[right - 1].results[0].time_s, 2: 3.6, 3: 3.9}


def test_between_two_corrections_what_only_one_of_them_says_is_not_lost() -> None:
    both = [
        written(1, 3.5),
        written(2, 3.6, 3.8, minute=1, replaces=key(1)),
        written(3, 3.7, minute=2, replaces=key(1)),
    ]
    (two,) = differing(both)
    (new,) = chosen(two, key(2), by="coach", at=NOW, ids=IDS)
    (standing,) = standing_entries([*both, new])
    assert [one.time_s for one in standing.results] == [3.6, 3.8]


def test_what_nobody_wrote_cannot_be_chosen() -> None:
    (two,) = differing([written(1, 3.5), written(2, 3.7)])
    with pytest.raises(KeyError):
        list(chosen(two, key(9), by="coach", at=NOW, ids=IDS))


@given(st.lists(st.tuples(st.integers(3, 5), st.integers(0, 59)), min_size=2, max_size=6), st.data())
def test_however_many_differ_one_choice_settles_it(said: list[tuple[int, int]], data: st.DataObject) -> None:
    those = [written(at, float(time), minute=minute) for at, (time, minute) in enumerate(said, start=1)]
    for two in differing(those):
        right = data.draw(st.sampled_from(two.accounts))
        new = list(chosen(two, right.entry.id, by="coach", at=NOW, ids=IDS))
        assert differing([*those, *new]) == ()
        standing = {one.results[0].time_s for one in standing_entries([*those, *new])}
        assert standing == {right.result.time_s}
