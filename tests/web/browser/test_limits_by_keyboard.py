"""A limit set and lifted, and a day written down, by keyboard alone; what has the focus is seen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import BrowserContext, Page

from web.browser.test_keyboard import follow, saved, tab_to

WEEKDAYS = ("Mon ", "Tue ", "Thu ")
Open = Callable[[BrowserContext], Page]


def to_restrictions(page: Page) -> None:
    follow(page, "Demo squad")
    tab_to(page, "Train", tag="summary")
    page.keyboard.press("Enter")
    follow(page, "Restrictions")


def test_a_restriction_is_set_and_lifted_without_a_mouse(
    window: BrowserContext,
    listen: Open,
    heard: Any,  # noqa: ANN401
) -> None:
    page = listen(window)
    page.goto("/")
    to_restrictions(page)
    tab_to(page, "For whom", tag="select")
    page.keyboard.press("End")
    tab_to(page, "Go on", tag="button")
    saved(page)
    tab_to(page, "Stop everything", tag="input")
    page.keyboard.press("ArrowDown")
    tab_to(page, "Set it", tag="button")
    saved(page)
    said = page.locator("main").inner_text()
    assert "At most 80 % of top speed" in said
    assert "The programme does not know this yet" in said
    tab_to(page, "Lift it", tag="summary")
    page.keyboard.press("Enter")
    tab_to(page, "Reason", tag="input")
    page.keyboard.type("seen running freely")
    saved(page)
    assert "Lifted by The coach" in page.locator("main").inner_text()
    assert heard.said == []
    assert heard.elsewhere == []
    page.close()


def test_an_athlete_answers_and_writes_a_session_down_without_a_mouse(
    athletes_window: BrowserContext,
    listen: Open,
    heard: Any,  # noqa: ANN401
) -> None:
    page = listen(athletes_window)
    page.goto("/")
    assert page.url.endswith("/mine/")
    for _question in range(5):
        tab_to(page, "1", tag="input")
        page.keyboard.press("ArrowRight")
    tab_to(page, "Keep my answers", tag="button")
    saved(page)
    assert "Answered today" in page.locator("main").inner_text()
    # Which of the two stands there is for the tests before to say: they plan for this athlete too.
    written = "Add or correct" in page.locator("main").inner_text()
    follow(page, *(("Add or correct",) if written else WEEKDAYS))
    tab_to(page, "How hard was it", tag="input")
    page.keyboard.press("Control+A")
    page.keyboard.type("8")
    tab_to(page, "In your own words", tag="textarea")
    page.keyboard.type("long day at school before")
    tab_to(page, "Write it down", tag="button")
    saved(page)
    follow(page, "Back to my page")
    said = page.locator("main").inner_text()
    assert "effort 8 of 10" in said
    assert "long day at school before" in said
    assert heard.said == []
    assert heard.elsewhere == []
    page.close()
