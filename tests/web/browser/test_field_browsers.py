"""What a browser keeps, and what the page says where it keeps less: signing out, plain http, no database."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from field_site import PHONE, FieldSite, Phone, boxes, results

STATES = """() => new Promise(resolve => { const asked = indexedDB.open("speedloom-field", 1);
  asked.onsuccess = () => asked.result.transaction("entries").objectStore("entries").getAll().onsuccess =
    found => { asked.result.close(); resolve(found.target.result.map(one => one.state)); }; })"""
FULL = """() => { IDBObjectStore.prototype.put =
  () => { throw new DOMException("", "QuotaExceededError"); }; }"""
KEPT_PAGES = "async () => (await caches.keys()).filter(one => one.startsWith('speedloom-field')).length"


@pytest.fixture
def one(browser: Browser, field: FieldSite) -> Iterator[Phone]:
    window = browser.new_context(viewport=PHONE, has_touch=True, reduced_motion="reduce")
    phone = Phone(field, window)
    phone.sign_in()
    yield phone
    window.close()


def test_signing_out_empties_the_pages_and_keeps_the_queue(one: Phone, field: FieldSite) -> None:
    one.open()
    one.kept_for_later()
    one.page.wait_for_function(f"async () => (await ({KEPT_PAGES})()) === 1")
    one.write_all([(boxes(one.page, 1)[2], 3.8)])
    one.all_sent()
    name, before = boxes(one.page, 1)[0], len(field.entries())
    one.page.route("**/written/**", lambda route: route.abort())
    one.write_all([(name, 3.81)])
    one.wait_saved(2)
    one.page.get_by_role("button", name="Sign out").click()
    one.page.wait_for_url(f"{field.home}/sign-in/**")
    one.page.wait_for_function(f"async () => (await ({KEPT_PAGES})()) === 0")
    assert one.page.evaluate(STATES) == ["waiting"], (
        "what has reached the site is forgotten, the rest is kept"
    )
    one.page.unroute("**/written/**")
    assert len(field.entries()) == before
    one.sign_in()
    one.open()
    one.all_sent()
    assert results(field.entries())[-1] == (name, 3.81)


def test_plain_http_is_said_honestly(one: Phone) -> None:
    one.page.add_init_script("Object.defineProperty(globalThis, 'isSecureContext', {value: false})")
    one.open()
    said = one.page.inner_text("#told")
    assert "no https" in said
    assert "keep it open until everything is sent" in said


def test_a_browser_without_a_database_sends_and_says_so(one: Phone, field: FieldSite) -> None:
    one.page.add_init_script(
        "Object.defineProperty(IDBFactory.prototype, 'open', {value() { throw new Error('closed'); }})"
    )
    one.open()
    assert "keeps nothing once the page is closed" in one.page.inner_text("#told")
    name = boxes(one.page, 1)[1]
    one.write_all([(name, 3.82)])
    one.all_sent()
    assert results(field.entries())[-1] == (name, 3.82)


def test_what_a_full_phone_does_not_keep_is_sent_all_the_same_and_said(one: Phone, field: FieldSite) -> None:
    one.open()
    one.page.evaluate(FULL)
    name = boxes(one.page, 1)[4]
    one.page.route("**/written/**", lambda route: route.abort())
    one.write_all([(name, 3.83)])
    one.page.wait_for_function("() => document.getElementById('kept').dataset.waiting === '1'")
    assert "Everything saved" not in one.page.inner_text("#kept")
    assert "keeps nothing once the page is closed" in one.page.inner_text("#told")
    one.page.unroute("**/written/**")
    one.all_sent()
    assert results(field.entries())[-1] == (name, 3.83)
