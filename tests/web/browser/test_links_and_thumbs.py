"""A link that is shown once is copied by a tap, or selected by hand; what is tapped is as high as a thumb."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

PHONE = {"width": 390, "height": 844}
THUMB = 44
TAPPED = (
    ("/squads/{squad}/programmes/{programme}/", "all revisions"),
    ("/squads/{squad}/programmes/{programme}/sessions/{date}/paper/?on={date}", "Leave without saving"),
    ("/squads/{squad}/athletes/{athlete}/", "As numbers"),
)


def _height(page: Page, text: str) -> float:
    box = page.locator("main a, main summary").filter(has_text=text).first.bounding_box()
    assert box is not None
    return box["height"]


@pytest.mark.parametrize(("where", "text"), TAPPED)
def test_what_is_tapped_is_as_high_as_a_thumb(
    where: str,
    text: str,
    window: BrowserContext,
    site: Any,  # noqa: ANN401
) -> None:
    page = window.new_page()
    page.set_viewport_size(PHONE)
    page.goto(where.format(**site.parts))
    assert _height(page, text) >= THUMB
    page.close()


def test_a_stranger_finds_the_way_in_with_a_thumb(strangers_window: BrowserContext, site: Any) -> None:  # noqa: ANN401
    page = strangers_window.new_page()
    page.set_viewport_size(PHONE)
    page.goto("/nothing-is-here/")
    assert _height(page, "Sign in") >= THUMB
    page.goto(f"/invitation/{site.parts['secret']}/")
    assert _height(page, "I have an account") >= THUMB
    page.close()


def _invite(page: Page, site: Any, role: str) -> None:  # noqa: ANN401
    page.goto(f"/squads/{site.parts['squad']}/people/")
    page.get_by_label("For whom").fill("Somebody new")
    page.get_by_label("Role", exact=True).select_option(role)


def test_an_invitation_is_copied_by_a_tap_and_an_athletes_has_no_ticks(
    window: BrowserContext,
    site: Any,  # noqa: ANN401
) -> None:
    window.grant_permissions(["clipboard-read", "clipboard-write"])
    page = window.new_page()
    _invite(page, site, "athlete")
    assert not page.get_by_role("group", name="Limited to").is_visible()
    _invite(page, site, "viewer")
    assert page.get_by_role("group", name="Limited to").is_visible()
    page.get_by_role("button", name="Make the link").click()
    link = page.locator("#link").inner_text()
    assert "/invitation/" in link
    page.get_by_role("button", name="Copy the link").click()
    page.get_by_text("Copied.").wait_for()
    assert page.evaluate("navigator.clipboard.readText()") == link
    page.close()


def test_without_scripts_the_link_is_text_to_select(
    browser: Browser,
    window: BrowserContext,
    site: Any,  # noqa: ANN401
) -> None:
    bare = browser.new_context(
        base_url=site.home, java_script_enabled=False, storage_state=window.storage_state()
    )
    page = bare.new_page()
    _invite(page, site, "viewer")
    page.get_by_role("button", name="Make the link").click()
    assert page.locator("#link").is_visible()
    assert not page.get_by_role("button", name="Copy the link").is_visible()
    bare.close()
