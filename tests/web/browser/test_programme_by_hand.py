"""The programme's page by keys and touch; what is not accepted comes back without an error in the console."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

Open = Callable[[BrowserContext], Page]
FOCUSED = "document.activeElement.getAttribute('aria-label') ?? document.activeElement.innerText"
SEEN = "getComputedStyle(document.activeElement).outlineStyle"


@pytest.fixture
def address(site: Any) -> str:  # noqa: ANN401
    return f"/squads/{site.parts['squad']}/programmes/{site.parts['programme']}/"


@pytest.fixture
def page(window: BrowserContext, listen: Open, heard: Any) -> Iterator[Page]:  # noqa: ANN401
    page = listen(window)
    yield page
    page.close()
    assert heard.said == []


def test_weeks_of_the_picture_are_walked_with_arrows_and_opened_with_enter(page: Page, address: str) -> None:
    page.goto(f"{address}?week=3")
    picture = page.locator("[data-weave] svg")
    expect(picture).to_have_attribute("role", "group")
    now = page.locator("[data-weave] [data-week][tabindex='0']")
    expect(now).to_have_count(1)
    expect(now).to_have_attribute("data-week", "3")
    now.focus()
    for key, week in (("ArrowRight", 4), ("ArrowRight", 5), ("ArrowLeft", 4), ("Home", 1), ("ArrowLeft", 1)):
        page.keyboard.press(key)
        assert page.evaluate(FOCUSED).startswith(f"Week {week}"), key
    assert page.evaluate(SEEN) != "none"
    page.keyboard.press("End")
    last = page.evaluate("document.activeElement.dataset.week")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.locator("#week-title")).to_contain_text(f"Week {last} of {last}")


def test_a_finger_opens_a_week(browser: Browser, window: BrowserContext, site: Any, address: str) -> None:  # noqa: ANN401
    phone = browser.new_context(
        base_url=site.home,
        has_touch=True,
        is_mobile=True,
        viewport={"width": 390, "height": 844},
        storage_state=window.storage_state(),
    )
    page = phone.new_page()
    page.goto(f"{address}?week=3")
    week = page.locator("[data-week='2']")
    week.scroll_into_view_if_needed()
    with page.expect_navigation():
        week.tap()
    expect(page.locator("#week-title")).to_contain_text("Week 2 of")
    phone.close()


def test_squares_are_one_stop_of_the_tab_key_and_open_their_change(page: Page, address: str) -> None:
    page.goto(f"{address}?week=9")
    squares = page.locator("[data-squares] td a")
    assert squares.count() > 30
    expect(page.locator("[data-squares] td a[tabindex='0']")).to_have_count(1)
    squares.first.focus()
    before = page.evaluate("document.activeElement.href")
    page.keyboard.press("ArrowRight")
    right = page.evaluate("document.activeElement.href")
    page.keyboard.press("ArrowDown")
    assert len({before, right, page.evaluate("document.activeElement.href")}) == 3
    expect(page.locator("[data-squares] td a[tabindex='0']")).to_have_count(1)
    page.keyboard.press("Enter")
    expect(page.locator("#why").get_by_role("heading", name="Change")).to_be_visible()
    assert page.url.endswith("week=9")  # it opened beside the table, not on a page of its own


def test_a_number_that_is_not_accepted_comes_back_beside_the_week(
    page: Page, address: str, site: Any  # noqa: ANN401
) -> None:  # fmt: skip
    page.goto(address)
    page.locator(f"#why, [id='{site.parts['ref']}']").first.wait_for()
    page.goto(f"{address}?week=9")
    page.locator("[data-squares] td a").last.click()
    reason = page.locator("#change-reason")
    reason.fill("tried")
    sets = page.locator("#change-sets")
    sets.fill("many")
    with page.expect_response(
        lambda answer: "/change/" in answer.url and answer.request.method == "POST"
    ) as answer:
        page.locator("#why").get_by_role("button", name="Save").first.click()
    assert answer.value.status == 200
    assert answer.value.headers["x-not-accepted"] == "422"
    expect(page.locator("#why [role=alert]").first).to_be_visible()
    expect(page.locator("#change-sets")).to_have_value("many")


def test_a_form_that_is_not_accepted_comes_back_as_a_page(page: Page, site: Any) -> None:  # noqa: ANN401
    page.goto(f"/squads/{site.parts['squad']}/calendar/add-event/")
    page.get_by_label("Title").fill("Cup")
    page.get_by_role("button", name="Go on").click()
    expect(page.get_by_role("alert").first).to_be_visible()
    expect(page.get_by_label("Title")).to_have_value("Cup")


def test_the_menu_of_papers_remembers_what_was_chosen(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_text("Print or send").click()
    page.get_by_label("Loads on sheets all can read").select_option(label="left out")
    with page.expect_response(lambda answer: "/hand-out/session/" in answer.url) as answer:
        page.get_by_role("button", name="Session sheets").click()
    assert "kilograms=no" in answer.value.url
    assert answer.value.headers["content-type"] == "application/pdf"
    page.goto(address)
    page.get_by_text("Print or send").click()
    expect(page.get_by_label("Loads on sheets all can read")).to_have_value("no")


def test_the_menu_of_papers_is_whole_on_a_phone(page: Page, address: str) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(address)
    page.get_by_text("Print or send").click()
    for name in ("Session sheets", "own sheet, week", "Table of lines"):
        box = page.locator(".menu").get_by_text(name).bounding_box()
        assert box is not None
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 390


@pytest.mark.parametrize("scripts", [True, False])
def test_a_phone_has_the_open_week_of_the_table_in_sight(
    browser: Browser,
    window: BrowserContext,
    site: Any,  # noqa: ANN401
    address: str,
    *,
    scripts: bool,
) -> None:
    phone = browser.new_context(
        base_url=site.home,
        java_script_enabled=scripts,
        viewport={"width": 390, "height": 844},
        storage_state=window.storage_state(),
    )
    page = phone.new_page()
    page.goto(f"{address}?week=8")
    if not scripts:
        page.get_by_role("link", name="To week 8 in the table").click()
    column = page.locator("#open-week").bounding_box()
    margin = page.locator(".progression tbody th[scope=row]").first.bounding_box()
    assert column
    assert margin
    assert margin["x"] + margin["width"] <= column["x"] + 1, "beside the names, not below them"
    assert column["x"] + column["width"] <= 390
    phone.close()
