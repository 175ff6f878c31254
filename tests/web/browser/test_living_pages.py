"""Planning again in a browser: how far it is stands there, and what would change comes without a new page."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

Open = Callable[[BrowserContext], Page]
PLANNED_MS = 120_000


def test_how_far_it_is_then_what_would_change_and_by_keys_alone(
    site: Any,  # noqa: ANN401
    window: BrowserContext,
    listen: Open,
    heard: Any,  # noqa: ANN401
) -> None:
    page = listen(window)
    try:
        page.goto(f"/squads/{site.parts['squad']}/programmes/{site.parts['programme']}/replan/")
        page.get_by_label("Why, in a few words").fill("Looked at in a browser")
        page.keyboard.press("Enter")
        expect(page.get_by_role("progressbar", name="How far the plan is")).to_be_visible(timeout=PLANNED_MS)
        expect(page.get_by_role("heading", name="What would change")).to_be_visible(timeout=PLANNED_MS)
        assert "reason=Looked%20at" in page.url, (
            "the address says what was asked, so that it can be gone back to"
        )
        expect(page.get_by_role("button", name="Accept as revision 2")).to_be_enabled()
        assert page.locator("svg.weave").count() == 2
        ids = page.evaluate("[...document.querySelectorAll('[id]')].map(one => one.id)")
        assert len(ids) == len(set(ids)), "two pictures on one page name their parts apart"
        assert heard.said == []
        assert heard.elsewhere == []
    finally:
        page.close()


def test_the_review_shows_all_its_columns_on_a_laptop(window: BrowserContext, site: Any, listen: Any) -> None:  # noqa: ANN401
    page = listen(window)
    page.set_viewport_size({"width": 1280, "height": 800})
    for week in ("6", "all"):
        page.goto(f"/squads/{site.parts['squad']}/programmes/{site.parts['programme']}/review/?week={week}")
        beyond = (
            "[...document.querySelectorAll('main .wide')].filter(one => one.scrollWidth > one.clientWidth)"
        )
        assert page.evaluate(f"{beyond}.map(one => one.innerText.slice(0, 40))") == []
    page.close()
