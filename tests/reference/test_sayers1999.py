"""Sayers et al. 1999, Med Sci Sports Exerc 31:572-577: peak power of a jump (equation and example read)."""

import pytest

from speedloom.science.mechanics.jump import sayers_power


def test_published_example() -> None:
    assert float(sayers_power(0.55, 80.0)) == pytest.approx(4907.5, abs=1e-9)


def test_second_example() -> None:
    # Recomputed.
    assert float(sayers_power(0.40, 75.0)) == pytest.approx(3770.5, abs=1e-9)
