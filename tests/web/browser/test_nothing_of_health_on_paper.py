"""What is printed from a squad's pages goes from hand to hand: LIMIT beside a name, no more of health."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from live_site import LOGIN, PASSWORD, demo_folder, served
from unit.report.pdf_reading import page_texts

HEALTH = (
    "stopped: pain",
    "absent: illness",
    "canary",
    "Limit:",
    "Not as written",
    "no training",
    "No training",
)
SESSION = "squads/{squad}/programmes/{programme}/sessions/{busy}/"
PRINTED = (
    f"{SESSION}?on={{busy}}",
    f"{SESSION}paper/?on={{busy}}",
    "squads/{squad}/programmes/{programme}/review/?week=7",
    "squads/{squad}/programmes/{programme}/?athlete={athlete}",
    "",
    "squads/{squad}/",
)


@pytest.fixture(scope="module")
def parts(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    """Serve a squad of its own: what is stopped here must not stand in other tests' way."""
    folder = tmp_path_factory.mktemp("paper") / "data"
    found = demo_folder(folder)
    with served("serve", "--data", folder) as (_process, port, _link):
        yield found | {"home": f"http://127.0.0.1:{port}/"}


@pytest.fixture(scope="module")
def desk(browser: Browser, parts: dict[str, str]) -> Iterator[BrowserContext]:
    """Sign in as the coach, without scripts: all exercises stand on the page, as they are printed."""
    window = browser.new_context(base_url=parts["home"], java_script_enabled=False)
    page = window.new_page()
    page.goto("/sign-in/")
    page.locator("[name=login]").fill(LOGIN)
    page.locator("[name=password]").fill(PASSWORD)
    page.locator("[name=password]").press("Enter")
    for place, (what, why) in enumerate((("stop", "pain"), ("absent", "illness"), ("absent", "other"))):
        page.goto("/" + PRINTED[0].format(**parts))
        _written(page, place, what, why)
    page.goto("/squads/{squad}/athletes/{athlete}/restrictions/".format(**parts))
    page.get_by_label("Stop everything", exact=False).first.check()
    page.get_by_role("button", name="Set it").click()
    page.close()
    yield window
    window.close()


def _written(page: Page, place: int, what: str, why: str) -> None:
    """Write one of the step's athletes down as stopped or away, with a note on the last."""
    form = page.locator("details.else").first
    form.locator("summary").click()
    who = form.locator("[name=line]")
    who.select_option(index=who.locator("option").count() - 1 - place)
    form.locator("[name=what]").select_option(what)
    form.locator("[name=reason]").select_option(why)
    form.locator("[name=note]").fill("canary" if why == "other" else "")
    form.get_by_role("button", name="Write it down").click()


def test_no_printed_page_of_the_squads_says_who_hurts_is_away_or_limited_to_what(
    desk: BrowserContext, parts: dict[str, str]
) -> None:
    page = desk.new_page()
    seen: dict[str, Any] = {}
    for where in PRINTED:
        page.goto("/" + where.format(**parts))
        for folded in page.locator("details.ready, details.else").all():
            folded.evaluate("one => one.open = true")
        shown = page.locator("body").inner_text()
        page.emulate_media(media="print")
        printed = " ".join(page_texts(page.pdf(format="A4")))
        page.emulate_media(media="screen")
        seen[where] = (shown, printed)
        assert [word for word in HEALTH if word in printed] == [], where
    page.close()
    for where in PRINTED[:2]:
        shown, printed = seen[where]
        assert {"stopped: pain", "absent: illness", "canary"} <= {word for word in HEALTH if word in shown}
        assert "Limit: no training" in shown
        assert "LIMIT" in printed
    assert "LIMIT" in seen[PRINTED[-1]][1], "the squad's list says of whom a limit holds, not which"
    assert "no training" in seen[PRINTED[-1]][0].lower()
