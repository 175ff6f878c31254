"""The main job by keyboard alone: sign in, squad, programme, change, save; what has the focus is seen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import BrowserContext, Page

from live_site import LOGIN, PASSWORD

MOST_TABS = 400
NAME = """() => { const one = document.activeElement, style = getComputedStyle(one);
  const label = one.labels?.length ? one.labels[0].innerText : one.getAttribute("aria-label");
  return {name: (label ?? one.innerText ?? "").trim(), tag: one.localName,
    seen: style.outlineStyle !== "none"}; }"""


def tab_to(page: Page, *names: str, tag: str | None = None) -> None:
    """Go on with the tab key until something of one of these names has the focus, and is seen to have it."""
    passed = []
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        now = page.evaluate(NAME)
        passed.append(now["name"])
        if now["name"].startswith(names) and tag in (None, now["tag"]):
            assert now["seen"], f"nobody sees that {now} has the focus"
            return
    raise AssertionError(f"{names} is not reached with the tab key: {passed[:60]}")


def follow(page: Page, *names: str) -> None:
    """Go to a link of one of these names and follow it."""
    tab_to(page, *names, tag="a")
    with page.expect_navigation():
        page.keyboard.press("Enter")


def typed(page: Page, text: str, *names: str) -> None:
    """Go to a box and write into it."""
    tab_to(page, *names, tag="input")
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def saved(page: Page) -> None:
    """Send the form that has the focus."""
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.wait_for_load_state()


def test_a_programme_is_changed_without_a_mouse(
    strangers_window: BrowserContext,
    listen: Callable[[BrowserContext], Page],
    heard: Any,  # noqa: ANN401
) -> None:
    page = listen(strangers_window)
    page.goto("/")
    typed(page, LOGIN, "Login", "Name", "Your")
    typed(page, PASSWORD, "Password")
    saved(page)
    for name in ("Demo squad", "Programmes", "Spring build"):
        follow(page, name)
    tab_to(page, "Change", tag="a")
    page.keyboard.press("Enter")
    page.wait_for_selector("#change-reason")
    typed(page, "Tall and relaxed", "Cue")
    typed(page, "Said so at training", "Why")
    saved(page)
    said = page.locator("main").inner_text()
    assert "Tall and relaxed" in said
    assert "Revision 2" in said
    assert heard.said == []
    assert heard.elsewhere == []
