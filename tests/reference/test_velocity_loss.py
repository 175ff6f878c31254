"""Velocity loss of a set, as in Jukic et al. 2023, Sports Med 53:177-214 (read)."""

import pytest

from speedloom.science.strength.repetitions import velocity_loss


def test_worked_set() -> None:
    # 0.75 to 0.62 m/s is 17.33 % (recomputed); past a 10 % limit, short of 20 %.
    assert float(100 * velocity_loss(0.75, 0.62)) == pytest.approx(17.33, abs=0.005)
