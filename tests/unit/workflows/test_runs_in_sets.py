"""A run that the coach has put in two sets counts both of them when the rest is planned again."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from briefs import EXAMPLES, planned
from edited import change, unsound
from replanned import again, with_news
from speedloom.training.programme import Programme

RUN, WEEK = "tereza-79", 3
MONDAY = date(2026, 9, 28)


def in_two_sets() -> Programme:
    return change(planned(EXAMPLES / "short_block.toml"), (f"{RUN}.sets", 2), (f"{RUN}.reps", 2))


def after_it(programme: Programme) -> Programme:
    """Lose the week's last day: the run is over by then."""
    last = programme.programmes[0].weeks[WEEK].sessions[-1].date
    return again(programme, since=MONDAY + timedelta(days=1), lost={"tereza": (last,)})


def before_it(programme: Programme) -> Programme:
    """Weigh the athlete anew: the run is drafted again and held."""

    def heavier(data: dict[str, Any]) -> None:
        data["athletes"][0]["mass_kg"] += 4

    return again(programme, since=MONDAY, brief=with_news(programme, heavier))


@pytest.mark.parametrize("news", [after_it, before_it])
def test_both_sets_count_in_the_week(news: Any) -> None:  # noqa: ANN401 - one of the two above
    new = news(in_two_sets())
    week = new.programmes[0].weeks[WEEK]
    lines = [
        line for session in week.sessions for line in session.prescriptions if line.run == "acceleration"
    ]
    work = [line for line in lines if line.purpose == "work"]
    assert [(line.sets, line.reps) for line in work if line.ref == RUN] == [(2, 2)]
    metres = sum(line.sets * line.reps * (line.distance_m or 0.0) for line in work)
    assert week.volumes["acceleration"].planned == metres
    assert unsound(new) == []
