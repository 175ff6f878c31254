"""Which masses a bar, a sled or a rack of dumbbells can make, against plain enumeration."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from speedloom.planning.plates import loadable, nearest_loadable
from speedloom.training.kit import Kit

PLATES = st.lists(
    st.tuples(st.sampled_from((0.5, 1.25, 2.5, 5.0, 10.0, 15.0, 20.0, 25.0)), st.integers(1, 5)),
    max_size=4,
    unique_by=lambda piece: piece[0],
)


def kit(kind: str, empty: float, plates: list[tuple[float, int]]) -> Kit:
    """Make a piece of kit."""
    return Kit.model_validate(
        {"ref": "it", "kind": kind, "place": "here", "empty_kg": empty, "plates_kg": tuple(plates)}
    )


def enumerated(empty: float, plates: list[tuple[float, int]], *, ends: int) -> list[float]:
    """Hang every choice of plates on each of the ends and weigh it, in grams."""
    choices = [range(count // ends + 1) for _, count in plates]
    masses = [round(mass * 1000) for mass, _ in plates]
    sums = {sum(n * m * ends for n, m in zip(pick, masses, strict=True)) for pick in product(*choices)}
    return sorted((round(empty * 1000) + total) / 1000 for total in sums)


@given(st.sampled_from((0.0, 7.5, 15.0, 20.0)), PLATES)
def test_a_bar_takes_plates_in_pairs(empty: float, plates: list[tuple[float, int]]) -> None:
    for kind in ("barbell", "trap_bar"):
        assert list(loadable(kit(kind, empty, plates))) == enumerated(empty, plates, ends=2)


@given(st.sampled_from((8.0, 12.5, 20.0)), PLATES)
def test_a_sled_takes_them_one_by_one(empty: float, plates: list[tuple[float, int]]) -> None:
    assert list(loadable(kit("sled", empty, plates))) == enumerated(empty, plates, ends=1)


@given(PLATES, st.floats(0, 200), st.one_of(st.none(), st.floats(20, 200)))
def test_nothing_loadable_is_nearer(plates: list[tuple[float, int]], load: float, cap: float | None) -> None:
    bar = kit("barbell", 20.0, plates)
    usable = [mass for mass in enumerated(20.0, plates, ends=2) if cap is None or mass <= cap + 1e-9]
    chosen = nearest_loadable(load, kit=bar, at_most=cap)
    assert chosen in usable
    assert abs(chosen - load) <= min(abs(mass - load) for mass in usable) + 1e-6


def test_a_tie_goes_to_the_lighter() -> None:
    assert nearest_loadable(22.5, kit=kit("barbell", 20.0, [(2.5, 2)])) == 20.0


def test_one_odd_plate_stays_on_its_peg() -> None:
    assert loadable(kit("barbell", 20.0, [(10.0, 3)])) == (20.0, 40.0)


def test_fixed_weights_are_what_they_are() -> None:
    dumbbells = Kit.model_validate(
        {"ref": "it", "kind": "dumbbell", "place": "here", "weights_kg": ((8.0, 2), (4.0, 2))}
    )
    assert loadable(dumbbells) == (4.0, 8.0)
