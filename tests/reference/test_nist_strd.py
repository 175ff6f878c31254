"""NIST StRD nonlinear regression, Misra1a and BoxBOD: y = b1·(1 − e^(−b2·x)) (certified values, read).

The speed-trace fit is that model with vmax = b1 and tau = 1/b2. It takes no start values, so both published
starts are the same run; that the answer does not depend on where the search begins is shown on the scale.
"""

import numpy as np
import pytest

from published import rows
from speedloom.science.mechanics.traces import TraceFit, fit_speed_trace

DATASETS = ("Misra1a", "BoxBOD")


def data(name: str) -> tuple[list[float], list[float]]:
    chosen = [row for row in rows("nist_strd_data") if row["dataset"] == name]
    return [float(row["x"]) for row in chosen], [float(row["y"]) for row in chosen]


def certified(name: str, item: str, kind: str = "certified") -> float:
    return next(
        float(row[kind])
        for row in rows("nist_strd_certified")
        if row["dataset"] == name and row["item"] == item
    )


def fit(name: str) -> TraceFit:
    return fit_speed_trace(*data(name))


@pytest.mark.parametrize("name", DATASETS)
def test_parameters(name: str) -> None:
    got = fit(name)
    assert got.vmax_mps[0] == pytest.approx(certified(name, "b1"), rel=1e-9)
    assert 1.0 / got.tau_s[0] == pytest.approx(certified(name, "b2"), rel=1e-9)


@pytest.mark.parametrize("name", DATASETS)
def test_standard_errors(name: str) -> None:
    got = fit(name)
    assert got.vmax_se_mps[0] == pytest.approx(certified(name, "b1", "std_dev"), rel=1e-8)
    assert got.tau_se_s[0] / got.tau_s[0] ** 2 == pytest.approx(certified(name, "b2", "std_dev"), rel=1e-8)


@pytest.mark.parametrize("name", DATASETS)
def test_residual_standard_deviation(name: str) -> None:
    assert fit(name).residual_sd[0] == pytest.approx(certified(name, "RSD"), rel=1e-9)


@pytest.mark.parametrize("scale", [0.013, 0.9, 7.0, 410.0])
@pytest.mark.parametrize("name", DATASETS)
def test_the_answer_does_not_depend_on_where_the_search_begins(name: str, scale: float) -> None:
    # Another unit of time moves the whole grid of the search against the answer.
    x, y = data(name)
    got = fit_speed_trace(np.array(x) * scale, y)
    assert scale / got.tau_s[0] == pytest.approx(certified(name, "b2"), rel=1e-9)
