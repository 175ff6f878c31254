"""Lockie, Murphy & Spinks 2003, JSCR 17:760: 12.6 and 32.2 %BM (read); %BM = −1.96·%V + 188.99 (memory)."""

import pytest

from speedloom.science.mechanics.published_sleds import lockie_load_share


@pytest.mark.parametrize(("speed", "load"), [(90, 12.6), (80, 32.2)])
def test_the_two_loads_tested(speed: float, load: float) -> None:
    assert 100 * float(lockie_load_share(speed / 100)) == pytest.approx(load, abs=0.05)


@pytest.mark.parametrize(("speed", "load"), [(95, 2.79), (92.5, 7.69), (85, 22.39)])
def test_the_rest_of_the_line(speed: float, load: float) -> None:
    assert 100 * float(lockie_load_share(speed / 100)) == pytest.approx(load, abs=0.01)
