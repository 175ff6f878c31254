"""Alcaraz, Palao & Elvira 2009, JSCR 23:480: %BM = −0.8674·%V + 87.99; pilot −0.8325·%V + 84.08 (read)."""

import pytest

from speedloom.science.mechanics.published_sleds import alcaraz_load_share, alcaraz_pilot_load_share

TABLE = [(95, 5.59, 4.99), (92.5, 7.76, 7.07), (90, 9.92, 9.16), (85, 14.26, 13.32), (80, 18.60, 17.48)]


@pytest.mark.parametrize(("speed", "load", "pilot"), TABLE)
def test_loads(speed: float, load: float, pilot: float) -> None:
    assert 100 * float(alcaraz_load_share(speed / 100)) == pytest.approx(load, abs=0.01)
    assert 100 * float(alcaraz_pilot_load_share(speed / 100)) == pytest.approx(pilot, abs=0.01)
