"""Poor network: the network cut, the page loaded again, the site started again; two phones; no sign-in."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from field_site import HELPER, PHONE, FieldSite, Phone, boxes, results
from live_site import LOGIN

RESULTS = 200
Get = Callable[[], Phone]


@pytest.fixture
def phone(browser: Browser, field: FieldSite) -> Iterator[Get]:
    windows = []
    if field.process is None:
        field.start()

    def got() -> Phone:
        windows.append(browser.new_context(viewport=PHONE, has_touch=True, reduced_motion="reduce"))
        return Phone(field, windows[-1])

    yield got
    for window in windows:
        window.close()


def test_two_hundred_results_through_a_cut_a_reload_and_a_restart(field: FieldSite, phone: Get) -> None:
    one = phone()
    one.sign_in()
    one.open()
    typed = typed_values(one)
    third = len(typed) // 3
    one.kept_for_later()
    one.write_all(typed[:third])
    one.all_sent()
    one.window.set_offline(True)
    field.kill()
    one.write_all(typed[third : 2 * third])
    one.wait_saved(2 * third)
    assert f"{third} to send · no network" in one.page.inner_text("#kept")
    one.page.reload()
    one.ready()
    one.wait_saved(2 * third)
    assert [(name, float(shown(one, name))) for name, _ in typed[: 2 * third]] == typed[: 2 * third]
    one.write_all(typed[2 * third :])
    one.wait_saved(len(typed))
    field.start()
    one.window.set_offline(False)
    one.all_sent()
    assert results(field.entries()) == typed, "each once, in the order in which they were typed"


def shown(one: Phone, name: str) -> str:
    return one.page.input_value(f"[name='box:{name}']")


def typed_values(one: Phone) -> list[tuple[str, float]]:
    """Give two hundred boxes of fourteen athletes, each with a value that no neighbour has."""
    timed = boxes(one.page, timed=True)
    names = [*timed, *(name for name in boxes(one.page) if name not in set(timed))][:RESULTS]
    assert len({name.split("-")[0] for name in names}) == 14
    assert len(names) == RESULTS
    return [
        (name, round(3 + at / 1000, 3) if at < len(timed) else 2 + at % 9) for at, name in enumerate(names)
    ]


def test_two_phones_and_two_values_of_one_run(field: FieldSite, phone: Get) -> None:
    one, other = phone(), phone()
    one.sign_in()
    one.open()
    name, mine, theirs = boxes(one.page, 1)[-3:]
    other.sign_in(HELPER)
    other.open()
    before = len(field.entries())
    one.write_all([(name, 3.91), (mine, 3.95)])
    one.all_sent()
    other.write_all([(name, 3.71), (theirs, 3.75)])
    other.all_sent()
    other.page.wait_for_selector(".differs")
    said = other.page.inner_text(".differs")
    assert all(word in said for word in ("3.91", "3.71", LOGIN, HELPER)), said
    assert len(field.entries()) == before + 4, "both are kept"
    other.page.locator(".differs button", has_text="3.91").click()
    other.ready()
    assert other.page.locator(".differs").count() == 0
    assert shown(other, name) == "3.91"
    entries = field.entries()
    assert len(entries) == before + 5, "what was not chosen is replaced, never deleted"
    assert entries[-1]["replaces"] in {entry["id"] for entry in entries}
    assert entries[-1]["by"] == HELPER


def test_a_phone_whose_sign_in_has_expired_keeps_its_queue(field: FieldSite, phone: Get) -> None:
    one = phone()
    one.sign_in()
    one.open()
    names, before = boxes(one.page, 2)[:3], len(field.entries())
    one.window.clear_cookies(name=_session_cookie(one))
    typed = [*zip(names, (3.01, 3.11, 3.21), strict=True)]
    one.write_all(typed)
    one.page.wait_for_selector(".told >> text=Sign in again; 3 results are kept here")
    assert len(field.entries()) == before
    one.page.get_by_role("link", name="Sign in").click()
    one.fill_in(LOGIN)
    one.ready()
    one.all_sent()
    stored = [one for one in results(field.entries()) if one[0] in names][-3:]
    assert stored == typed


def test_another_person_sends_nothing_of_it_and_can_save_it(
    field: FieldSite, phone: Get, tmp_path: Path
) -> None:
    one = phone()
    one.sign_in()
    one.open()
    name = boxes(one.page, 2)[-1]
    one.window.clear_cookies(name=_session_cookie(one))
    one.write_all([(name, 3.33)])
    one.page.wait_for_selector(".told >> text=Sign in again")
    one.page.get_by_role("link", name="Sign in").click()
    one.fill_in(HELPER)
    one.ready()
    one.page.wait_for_selector(f".told >> text=that {LOGIN} typed")
    with one.page.expect_download() as saving:
        one.page.get_by_role("button", name="Save as a file").first.click()
    saved = tmp_path / "kept.json"
    saving.value.save_as(saved)
    # What it corrects comes with it, so that the file can be read by itself.
    entry, *_corrected = json.loads(saved.read_text())["entries"]
    assert (entry["by"], entry["results"][0]["time_s"]) == (LOGIN, 3.33)
    assert entry["id"] not in {one["id"] for one in field.entries()}
    one.page.goto(f"{field.home}{field.session}sent-in/")
    one.page.set_input_files("#file", saved)
    one.page.get_by_role("button", name="Look at it").click()
    one.page.get_by_role("button", name="Save them").click()
    one.page.wait_for_selector("#which-day")
    assert field.entries()[-1]["id"] == entry["id"]


def _session_cookie(one: Phone) -> str:
    return next(str(cookie["name"]) for cookie in one.window.cookies() if "session" in str(cookie["name"]))
