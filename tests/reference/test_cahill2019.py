"""Cahill et al. 2019, Sports 7(5):119, and 2020, JSCR 34:2751-2759: sled pulling of youths (read)."""

import numpy as np
import pytest

from speedloom.science.mechanics.published_sleds import cahill_pull_load_share
from speedloom.science.mechanics.resistance import steady_decrement
from speedloom.science.mechanics.sprint import Runner

RANGES = {0.10: (14, 21), 0.25: (36, 53), 0.50: (71, 107), 0.75: (107, 160)}


@pytest.mark.parametrize(("decrement", "percent"), [(0.25, 44.0), (0.50, 89.0), (0.75, 133.0)])
def test_group_loads(decrement: float, percent: float) -> None:
    assert 100 * float(cahill_pull_load_share(decrement)) == pytest.approx(percent, rel=0.02)


@pytest.mark.parametrize("decrement", RANGES)
def test_the_line_lies_in_the_published_range(decrement: float) -> None:
    low, high = RANGES[decrement]
    assert low <= 100 * float(cahill_pull_load_share(decrement)) <= high


def test_the_line_is_the_motion_at_a_friction_of_046() -> None:
    # The published line is that of a sled with friction .45–.47 (recomputed).
    runner = Runner(8.0, 9.5, 80.0, 0.29)
    wanted = np.array([0.112, 0.225, 0.337, 0.449, 0.562])
    load = 80.0 * cahill_pull_load_share(wanted)
    low, high = (steady_decrement(runner, load_kg=load, friction=mu) for mu in (0.445, 0.475))
    assert np.all((low <= wanted) & (wanted <= high))
