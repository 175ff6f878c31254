"""Programmes in memory: bounded by how much they are; the one not asked for longest goes."""

from __future__ import annotations

import pytest

from invented_squads import Squads, two_athletes
from speedloom.store import documents_read, programmes
from speedloom.training.document import digest
from speedloom.training.programme import Programme


def stored(squads: Squads, count: int) -> list[Programme]:
    those = [two_athletes().model_copy(update={"id": f"{number:012x}"}) for number in range(1, count + 1)]
    for one in those:
        programmes.save_programme(squads.keeper, squads.ours, one)
    return those


def read(squads: Squads, one: Programme) -> Programme:
    return programmes.read_programme(squads.keeper, squads.ours, one.id)


def test_what_does_not_fit_is_read_again(squads: Squads, monkeypatch: pytest.MonkeyPatch) -> None:
    documents_read.forget_read()
    first, second, third = stored(squads, 3)
    assert documents_read.in_memory() == 3
    assert read(squads, first) is first
    # Room for two: those that were not asked for longest go.
    length = len(two_athletes().model_dump_json())
    monkeypatch.setattr(documents_read, "MOST_TEXT", int(2.9 * length))
    fourth = stored(squads, 4)[3]
    assert documents_read.in_memory() == 2
    assert read(squads, first) is first
    assert read(squads, fourth) is fourth
    again = read(squads, second)
    assert again is not second
    assert (again, digest(again)) == (second, digest(second))
    assert read(squads, third) == third


def test_one_that_is_more_than_all_may_be_is_kept_alone(
    squads: Squads, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(documents_read, "MOST_TEXT", 10)
    first, second = stored(squads, 2)
    assert documents_read.in_memory() == 1
    assert read(squads, second) is second
    assert read(squads, first) == first
