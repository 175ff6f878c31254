"""What tests of pages share: the living squad on the site, the clock on its day."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

if TYPE_CHECKING:
    from collections.abc import Iterator

    from living_site import LivingSite


@pytest.fixture(autouse=True)
def where_the_squads_are() -> Iterator[None]:
    """Let a test's own days be those of the invented squads, as a page's are."""
    with timezone.override(ZoneInfo("Europe/Amsterdam")):
        yield


@pytest.fixture
def lived(db: None, monkeypatch: pytest.MonkeyPatch) -> LivingSite:  # noqa: ARG001 - needed, not looked at
    """Five athletes in week 7 of their programme, with a log behind them; it is Wednesday noon."""
    from living_site import living_site
    from living_squad import TODAY

    monkeypatch.setattr(timezone, "now", lambda: datetime(TODAY.year, TODAY.month, TODAY.day, 12, tzinfo=UTC))
    return living_site()
