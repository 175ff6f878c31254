"""Bosco, Luhtanen and Komi 1983, Eur J Appl Physiol 50:273-282: mean power of repeated jumps.

Formula from memory, number recomputed.
"""

import pytest

from speedloom.science.mechanics.jump import bosco_power


def test_eighteen_jumps_in_fifteen_seconds() -> None:
    assert float(bosco_power(9.0, 15.0, 18, g=9.81)) == pytest.approx(30.07, abs=0.005)
