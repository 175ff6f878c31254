"""What reaches a session's page while it is open: limits, their lifting, and what keeps out of "as written"."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext

from field_site import PHONE, FieldSite, Phone, boxes, field_site
from house import ROOT

LIMIT = "Not as written. Limit: no "
HALF_A_MINUTE_MS = 31_000
OWN = "rest_of_this_test"


@pytest.fixture(scope="module")
def field(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FieldSite]:
    with field_site(tmp_path_factory.mktemp("live") / "data") as site:
        yield site


@pytest.fixture(scope="module")
def window(browser: Browser, field: FieldSite) -> Iterator[BrowserContext]:
    window = browser.new_context(viewport=PHONE, has_touch=True, reduced_motion="reduce")
    Phone(field, window).sign_in()
    yield window
    window.close()


@pytest.fixture
def one(window: BrowserContext, field: FieldSite) -> Iterator[Phone]:
    phone = Phone(field, window)
    phone.open()
    yield phone
    phone.page.close()


def elsewhere(field: FieldSite, deed: str, athlete: str) -> None:
    """Set or lift the limit of no training at all, as from another device."""
    code = "import sys; from web.browser.test_field_limits_live import set_or_lift as do; do(*sys.argv[1:])"
    known = [str(field.folder), field.parts["squad"], deed, athlete]
    subprocess.run([sys.executable, "-c", code, *known], cwd=ROOT / "tests", check=True)


def set_or_lift(folder: str, squad: str, deed: str, athlete: str) -> None:
    """Set a limit of no training at all, or lift what is in force."""
    from datetime import date
    from pathlib import Path

    from speedloom.store.data_folder import DataFolder
    from speedloom.web.settings import SiteOptions
    from speedloom.web.site import start

    start(SiteOptions(DataFolder(Path(folder))))
    from live_site import LOGIN
    from speedloom.store import people
    from speedloom.store.restrictions import lift_restriction, restrictions, set_restriction
    from speedloom.training.athlete import Limit, Restriction

    coach = people.find(LOGIN)
    assert coach is not None
    if deed == "lift":
        for card in restrictions(coach, squad, athlete=athlete):
            if card.restriction.ref != OWN:
                continue
            lift_restriction(coach, squad, athlete, card.id, reason="better")
        return
    said = {"set_by": "The coach", "set_as": "coach", "from": date(2020, 1, 1)}
    limits = (Limit(what="minutes", at_most=0),)
    set_restriction(coach, squad, athlete, Restriction.model_validate({"ref": OWN, "limits": limits, **said}))


def test_a_limit_reaches_an_open_page_within_half_a_minute_and_so_does_its_lifting(
    one: Phone, field: FieldSite
) -> None:
    row = one.page.locator(".step.now .who").nth(2)
    athlete = json.loads(row.get_attribute("data-row") or "")["athlete"]
    name = row.locator(".pick").inner_text()
    assert LIMIT not in row.inner_text()
    elsewhere(field, "set", athlete)
    limited = f"#{row.get_attribute('id')}[data-limit]"
    one.page.wait_for_selector(limited, timeout=HALF_A_MINUTE_MS)
    assert LIMIT in row.inner_text()
    assert f"{name}: no training" in (one.page.locator("#limits").text_content() or "")
    one.page.tap("#everybody")
    assert f"Left out, above a limit: {name}" in one.page.inner_text("#confirm-text")
    one.page.tap("#confirm-no")
    # With the next exchange with the site it is gone again, sooner than half a minute.
    elsewhere(field, "lift", athlete)
    one.write(boxes(one.page, 1)[0], "4.02")
    one.page.wait_for_selector(limited, state="detached", timeout=5000)
    assert LIMIT not in row.inner_text()
    one.page.tap("#everybody")
    assert name not in one.page.inner_text("#confirm-text")
