"""What tests of pages share: the living squad on the site, the clock on its day."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest
from django.utils import timezone

if TYPE_CHECKING:
    from living_site import LivingSite


@pytest.fixture
def lived(db: None, monkeypatch: pytest.MonkeyPatch) -> LivingSite:  # noqa: ARG001 - needed, not looked at
    """Five athletes in week 7 of their programme, with a log behind them; it is Wednesday noon."""
    from living_site import living_site
    from living_squad import TODAY

    monkeypatch.setattr(timezone, "now", lambda: datetime(TODAY.year, TODAY.month, TODAY.day, 12, tzinfo=UTC))
    return living_site()
