"""Every page in a real browser: axe finds nothing, light and dark, wide and narrow; no call leaves."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from django.urls import URLPattern, URLResolver, get_resolver
from playwright.sync_api import Browser, BrowserContext, Page

WIDE, NARROW, NARROWEST, HEIGHT = 1240, 390, 320, 900
STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
"""WCAG 2.2 AA as axe names it; only what it finds wrong is sent back."""
EVERYTHING = {"resultTypes": ["violations"], "runOnly": {"type": "tag", "values": STANDARD}}
COLOURS = {"resultTypes": ["violations"], "runOnly": {"type": "rule", "values": ["color-contrast"]}}
"""What another theme at the same width can change."""
PART = re.compile(r"<(?:\w+:)?(\w+)>")
ALONE = {"sign_in", "invited", "one_time", "sheet"}
"""Pages of somebody who is not signed in."""
ATHLETES_OWN = {"mine", "mine_stop", "mine_session"}
"""Pages that nobody opens but the athlete they are of."""
NO_PAGES = {
    "mine_sheet",
    "review_paper",
    "retest_paper",
    "retest_own_paper",
    "health",
    "sign_out",
    "programme_hand_out",
    "api_no_such_call",
    "feed",
    "sheet_paper",
    "icon",
}
"""Addresses that answer with a file, a word or another page; each has tests of its own."""
OVERFLOW = """() => document.documentElement.scrollWidth <= innerWidth ? [] :
  [...document.querySelectorAll("body *")].filter(one => one.getBoundingClientRect().right > innerWidth + 1
    && !one.closest(".wide, [data-weave], .hidden, .skip")).slice(0, 5)
    .map(one => one.outerHTML.slice(0, 150))
    .concat(`the page is ${document.documentElement.scrollWidth} wide`)"""
IDENTIFIERS = """() => { const found = [];
  const all = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (all.nextNode()) { const one = all.currentNode;
    const written = one.parentElement.closest("code, pre, script, style, textarea");
    if (!written && /[a-z]+_[a-z]+/.test(one.textContent))
      found.push(one.textContent.trim().slice(0, 150)); }
  return found; }"""
"""Words of the data that stand where people read."""
CLIPPED = """() => { const pen = document.createElement("canvas").getContext("2d");
  return [...document.querySelectorAll("select")].filter(one => one.offsetParent).flatMap(one => {
    const style = getComputedStyle(one); pen.font = style.font;
    const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 16;
    return [...one.options].filter(each => pen.measureText(each.text).width > room)
      .map(each => `${one.name}: ${each.text}`); }); }"""
"""Choices that their box cuts off."""
SETTLED = "() => !document.querySelector('.htmx-request') && document.readyState === 'complete'"
Open = Callable[[BrowserContext], Page]


def routes(patterns: list[Any] | None = None, before: str = "") -> Iterator[tuple[str, URLPattern]]:
    """List every address of the site that shows something when it is asked for."""
    for one in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(one, URLResolver):
            yield from routes(one.url_patterns, before + str(one.pattern))
        elif shows(one):
            yield before + str(one.pattern), one


def shows(pattern: URLPattern) -> bool:
    """Say whether an address has a page."""
    access = getattr(pattern.callback, "access", None)
    if access is None or pattern.name in NO_PAGES:  # a call of the API
        return False
    return access.who != "permitted" or access.look is not None


PAGES = sorted({route: pattern.name for route, pattern in routes()}.items())


def axe(page: Page, options: dict[str, Any]) -> list[str]:
    """Give what axe finds wrong, a line each with the places."""
    found = page.evaluate(f"axe.run(document, {json.dumps(options)})")["violations"]
    return [
        f"{one['id']}: {one['help']}: {node['html'][:160]} {node['any'][0]['message'] if node['any'] else ''}"
        for one in found
        for node in one["nodes"][:4]
    ]


def look(page: Page) -> dict[str, list[str]]:
    """Look at a page in both themes at both widths, and whether it fits the narrowest screen."""
    page.evaluate(AXE_SCRIPT)
    found = {"wide, light": axe(page, EVERYTHING)}
    page.emulate_media(color_scheme="dark")
    found["wide, dark"] = axe(page, COLOURS)
    found["wide, cut off"] = page.evaluate(CLIPPED)
    page.set_viewport_size({"width": NARROW, "height": HEIGHT})
    found["narrow, cut off"] = page.evaluate(CLIPPED)
    found["narrow, dark"] = axe(page, EVERYTHING)
    page.emulate_media(color_scheme="light")
    found["narrow, light"] = axe(page, COLOURS)
    page.set_viewport_size({"width": NARROWEST, "height": HEIGHT})
    found["narrowest"] = page.evaluate(OVERFLOW)
    return {name: faults for name, faults in found.items() if faults}


def address(route: str, parts: dict[str, str]) -> str:
    names = PART.findall(route)
    assert set(names) <= set(parts), "an address with a new part: give it in live_site.make_demo"
    return "/" + PART.sub(lambda part: parts[part[1]], route)


@pytest.mark.parametrize(("route", "name"), PAGES, ids=[route or "/" for route, _ in PAGES])
def test_a_page(
    route: str,
    name: str,
    site: Any,  # noqa: ANN401
    window: BrowserContext,
    athletes_window: BrowserContext,
    browser: Browser,
    listen: Open,
    heard: Any,  # noqa: ANN401
) -> None:
    theirs = athletes_window if name in ATHLETES_OWN else window
    own = browser.new_context(base_url=site.home, reduced_motion="reduce") if name in ALONE else theirs
    where = address(route, site.parts)
    page = listen(own)
    try:
        page.set_viewport_size({"width": WIDE, "height": HEIGHT})
        page.emulate_media(color_scheme="light")
        answer = page.goto(where)
        assert answer is not None
        expected = {404, 410} if name == "one_time" else {200}
        assert answer.status in expected, (where, answer.status)
        if "<!doctype html>" not in answer.text()[:200].lower():
            assert "<html" not in answer.text()  # a part of a page; the page it is of is looked at whole
            return
        page.wait_for_function(SETTLED)
        assert page.evaluate(IDENTIFIERS) == []
        assert look(page) == {}
        assert heard.elsewhere == []
        assert [one for one in heard.said if "410" not in one] == []
    finally:
        page.close()
        if name in ALONE:
            own.close()
