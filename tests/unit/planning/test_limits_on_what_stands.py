"""A session stands when it is planned again only where what is limited since still allows it as it is."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from invented_briefs import athlete, brief, planned, sessions
from replanned import again, broken, with_news

SINCE = date(2026, 1, 26)


@pytest.mark.parametrize(
    "limit",
    [
        {"what": "minutes", "at_most": 55.0},
        {"what": "sets", "at_most": 6.0},
        {"what": "contacts", "at_most": 20.0},
    ],
    ids=lambda limit: limit["what"],
)
def test_a_limit_on_a_sum_is_kept_by_sessions_that_were_fuller(limit: dict[str, Any]) -> None:
    first = planned(brief(athlete("ada")))
    held = {
        "ref": "ada_limit",
        "limits": [limit],
        "from": SINCE.isoformat(),
        "set_by": "physio",
        "set_as": "clinician",
    }
    new = again(
        first,
        since=SINCE,
        brief=with_news(first, lambda data: data["athletes"][0]["restrictions"].append(held)),
    )
    assert broken(first, new, since=SINCE) == []
    ahead = [one for one in sessions(new) if one.date >= SINCE]
    assert ahead
    if limit["what"] == "minutes":
        assert all(one.minutes <= 55.0 for one in ahead)
