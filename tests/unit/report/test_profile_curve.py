"""Speed over distance as a picture."""

from __future__ import annotations

import json

import pytest

from speedloom.report.charts.profile_curve import GateInterval, curve_from_profile, profile_curve_svg
from speedloom.report.charts.skins import SkinName
from speedloom.training.profile import Profile
from unit.report.svg_reading import SVG, parsed


def band(value: float, half: float) -> dict[str, float]:
    return {"value": value, "low": value - half, "high": value + half}


def profile(**changes: object) -> Profile:
    splits = [
        {"distance_m": far, "time_s": time, "fitted_s": time}
        for far, time in ((10, 2.0), (20, 3.25), (30, 4.5))
    ]
    nothing = dict.fromkeys(("behind_m", "surface", "f0_npkg", "v0_mps", "pmax_wpkg", "offset_s"))
    document = {
        **nothing,
        "ref": "noa/2026-01-08/gates", "athlete": "noa", "date": "2026-01-08", "timing": "gates",
        "clock": "movement",
        "trials": {"used": [2], "rule": "best"}, "mass_kg": 61.5, "height_m": 1.69,
        "air": {"density_kgpm3": 1.204, "assumed": True}, "timing_sd_s": 0.01,
        "vmax_mps": band(8.0, 0.2), "tau_s": band(1.0, 0.05), "splits": splits, **changes,
    }  # fmt: skip
    return Profile.model_validate_json(json.dumps(document))


def test_bars_are_mean_speeds_between_gates() -> None:
    curve = curve_from_profile(profile())
    assert curve is not None
    assert curve.bars == (
        GateInterval(0.0, 10.0, 5.0),
        GateInterval(10.0, 20.0, 8.0),
        GateInterval(20.0, 30.0, 8.0),
    )


def test_a_late_clock_is_put_right_and_a_start_behind_the_beam_moves_the_bars() -> None:
    late = curve_from_profile(profile(clock="unknown", offset_s=band(0.5, 0.1)))
    behind = curve_from_profile(profile(clock="behind", behind_m=0.5))
    assert late is not None
    assert behind is not None
    assert late.bars[0].speed_mps == pytest.approx(10.0 / 1.5)
    assert behind.bars[0] == GateInterval(0.5, 10.5, 5.0)


def test_the_curve_rises_within_its_band_to_top_speed() -> None:
    curve = curve_from_profile(profile(), reach_m=60.0)
    assert curve is not None
    rows = list(zip(curve.low_mps, curve.speed_mps, curve.high_mps, strict=True))
    assert all(low <= speed <= high for low, speed, high in rows)
    assert list(curve.speed_mps) == sorted(curve.speed_mps)
    assert (curve.distance_m[0], curve.speed_mps[0]) == (0.0, 0.0)
    assert curve.distance_m[-1] == 60.0
    assert curve.high_mps[-1] - curve.speed_mps[-1] == pytest.approx(0.2, abs=0.01)


def test_shares_of_top_speed_stand_where_they_are_reached() -> None:
    curve = curve_from_profile(profile())
    assert curve is not None
    # vmax·tau·(−ln(1 − p) − p): 8 · (2.3026 − 0.9) and 8 · (2.9957 − 0.95) m, worked by hand.
    assert curve.reached == (
        (0.90, pytest.approx(11.2207, abs=1e-3)),
        (0.95, pytest.approx(16.3659, abs=1e-3)),
    )


def test_no_top_speed_no_curve() -> None:
    assert curve_from_profile(profile(vmax_mps=None)) is None


@pytest.mark.parametrize("skin", ["page", "paper"])
@pytest.mark.parametrize("width", [320.0, 640.0])
def test_the_picture(skin: SkinName, width: float) -> None:
    curve = curve_from_profile(profile(), name="Noa Vance")
    assert curve is not None
    picture = parsed(profile_curve_svg(curve, skin=skin, width=width))
    assert all("style" not in found.attrib for found in picture.iter())
    assert [found.text for found in picture][:2] == [
        "Noa Vance: speed over distance, 8 January 2026",
        curve.summary,
    ]
    told = [found.text for found in picture.iter(f"{SVG}title")][1:]
    assert told == ["0 to 10 m: 5.00 m/s", "10 to 20 m: 8.00 m/s", "20 to 30 m: 8.00 m/s"]
    assert len(list(picture.iter(f"{SVG}circle"))) == 0
    for found in picture.iter(f"{SVG}text"):
        assert 0.0 <= float(found.attrib["x"]) <= width
