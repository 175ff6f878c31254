"""Thambawita et al. 2020, PMData, doi 10.1145/3339825.3394926: one participant's week (read).

ISO week 13 of 2020; its figures were recomputed from the entries apart from our code.
"""

from datetime import datetime

import numpy as np
import pytest

from published import column, rows
from speedloom.science.statistics.load import daily_loads, monotony, session_load, strain, weekly_load

TABLE = "pmdata_p08_week13"


def test_a_real_week_with_two_sessions_on_one_day() -> None:
    days = [datetime.fromisoformat(row["end_date_time"]).weekday() for row in rows(TABLE)]
    week = daily_loads(days, session_load(column(TABLE, "perceived_exertion"), column(TABLE, "duration_min")))
    assert week.tolist() == [360, 560, 500, 360, 180, 770, 720]
    assert float(weekly_load(week)) == 3450
    assert float(np.mean(week)) == pytest.approx(492.8571, abs=5e-5)
    assert float(np.std(week, ddof=1)) == pytest.approx(210.6114, abs=5e-5)
    assert float(monotony(week)) == pytest.approx(2.3401, abs=5e-5)
    assert float(strain(week)) == pytest.approx(8073.4353, abs=5e-4)
