"""The session by thumb where a tap goes wrong: empty boxes, times without their point, swaps, two values."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Locator

from field_site import FieldSite, Phone

CLOCK = """async () => { const { clockText } = await import("/static/speedloom/session_clock.js");
  return [240, 239.6, 239, 60, 59.2, 0.4].map(clockText); }"""
IN_VIEW = """ask => { const { top, bottom } = ask.getBoundingClientRect();
  return top >= 0 && bottom <= document.getElementById("bar").getBoundingClientRect().top; }"""


def free_row(one: Phone, *, runs: int = 2) -> Locator:
    """Give a row that is shown, with an expected time and no limit, of which nothing is written."""
    rows = one.page.locator(".step.now .who:not(.over, [data-limit], [data-expect=''])").all()
    empty = (row for row in rows if not any(box.input_value() for box in boxes(row).all()))
    return next(row for row in empty if boxes(row).count() >= runs)


def boxes(row: Locator) -> Locator:
    return row.locator("input[data-set]")


def fixed(one: Phone, row: Locator) -> Locator:
    """Name a row by its line: what is found by what stands in it would be another one later."""
    return one.page.locator(f"#{row.get_attribute('id')}")


def expected(row: Locator) -> float:
    return float((row.get_attribute("data-expect") or "0").split()[0])


def data(row: Locator) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(row.get_attribute("data-row") or "")
    return found


def otherwise(one: Phone, row: Locator, what: str, reason: str) -> None:
    row.locator(".pick").tap()
    # A row with an empty box is typed into; for a full one the bar keeps its usual buttons.
    one.page.tap("#box-stop" if one.page.locator("#box-stop").is_visible() else "#otherwise")
    form = one.page.locator(".step.now .else form")
    form.locator("[name=what]").select_option(what)
    form.locator("[name=reason]").select_option(reason)
    form.locator("button.stop").tap()


def test_done_on_an_empty_box_keeps_nothing_and_done_without_a_time_is_a_tap_of_its_own(
    one: Phone, field: FieldSite
) -> None:
    row, before = fixed(one, free_row(one)), len(field.entries())
    box = boxes(row).first
    box.tap()
    one.page.tap("#box-done")
    box.tap()
    one.page.keyboard.type("perhaps")
    one.page.tap("#box-done")
    box.fill("")
    one.page.tap("#box-done")
    one.all_sent()
    assert box.input_value() == ""
    assert len(field.entries()) == before
    box.tap()
    assert one.page.inner_text("#box-plain") == "Done, no time"
    one.page.tap("#box-plain")
    one.all_sent()
    (new,) = field.entries()[before:]
    assert box.input_value() == "x"
    assert [result["time_s"] for result in new["results"]] == [None]


def test_a_time_without_its_point_is_asked_about_before_it_is_kept(one: Phone, field: FieldSite) -> None:
    row, before = fixed(one, free_row(one)), len(field.entries())
    meant = f"{expected(row) + 0.11:.2f}"
    typed = meant.replace(".", "").lstrip("0")
    box = boxes(row).first
    box.tap()
    one.page.keyboard.type(typed)
    one.page.tap("#box-done")
    ask = row.locator(".ask")
    assert ask.inner_text().startswith(f"{meant} s? You typed {typed}")
    assert ask.evaluate(IN_VIEW)
    assert box.input_value() == typed
    assert len(field.entries()) == before
    ask.get_by_role("button", name=f"{meant} s", exact=True).tap()
    one.all_sent()
    (new,) = field.entries()[before:]
    assert [result["time_s"] for result in new["results"]] == [float(meant)]
    assert ask.is_hidden()


def test_whoever_insists_has_it_kept_as_typed_marked_unusual(one: Phone, field: FieldSite) -> None:
    row = fixed(one, free_row(one))
    typed, ask = f"{expected(row) + 0.11:.2f}".replace(".", "").lstrip("0"), row.locator(".ask")
    box = boxes(row).nth(1)
    box.fill(typed)
    box.press("Enter")
    ask.get_by_role("button", name=f"Keep {typed} s").tap()
    one.all_sent()
    one.page.wait_for_function("ask => ask.textContent.includes('marked unusual')", arg=ask.element_handle())
    assert ask.evaluate(IN_VIEW)
    (result,) = field.entries()[-1]["results"]
    assert (result["time_s"], result["mark"]) == (float(typed), "unusual")


def test_a_swap_shows_no_number_of_the_exercise_that_is_not_done(one: Phone) -> None:
    one.step(2)
    row = fixed(one, free_row(one))
    time = row.get_attribute("data-expect") or ""
    stop = f"stop {row.get_attribute('data-stop')}"
    assert time in row.inner_text()
    assert stop in row.inner_text()
    form = one.page.locator(".step.now .else form")
    swap = next(
        value
        for option in form.locator("[name=what] option").all()
        if (value := option.get_attribute("value") or "").startswith("swap:")
    )
    otherwise(one, row, swap, "weather")
    one.all_sent()
    for _ in range(2):
        assert "as you choose" in row.inner_text()
        assert time not in row.inner_text()
        assert "stop" not in row.inner_text()
        boxes(row).first.tap()
        assert one.page.inner_text("#now-load") == one.page.inner_text("#now-stop") == ""
        one.page.reload()
        one.ready()


def typed_apart(one: Phone, field: FieldSite, row: Locator, mine: str, theirs: str) -> None:
    """Let two phones write another value into the first box of a row, neither knowing of the other's."""
    other = Phone(field, one.window)
    other.open()
    there = other.page.locator(f"#{row.get_attribute('id')}")
    one.window.set_offline(True)
    for box, value in ((boxes(row).first, mine), (boxes(there).first, theirs)):
        box.fill(value)
        box.press("Enter")
    one.window.set_offline(False)
    for phone in (one, other):
        phone.page.evaluate("dispatchEvent(new Event('online'))")
        phone.all_sent()
    other.page.close()


def test_two_values_stand_in_the_row_until_one_is_chosen(one: Phone, field: FieldSite) -> None:
    row = fixed(one, free_row(one))
    slow, fast = f"{expected(row) + 0.05:.2f}", f"{expected(row) + 0.02:.2f}"
    typed_apart(one, field, row, slow, fast)
    one.page.evaluate("dispatchEvent(new Event('online'))")
    both = row.locator(".both")
    both.wait_for()
    assert both.inner_text().startswith("Two values, run 1: ")
    assert slow in both.inner_text()
    assert fast in both.inner_text()
    both.get_by_role("button", name="Settle it").tap()
    one.page.locator("#differences button[name=entry]").first.tap()
    one.page.wait_for_function(
        "id => !document.querySelector(`#${id} .both:not([hidden])`)", arg=row.get_attribute("id")
    )
    assert both.count() == 0 or both.is_hidden()


def test_the_clock_of_a_rest_rounds_whole_seconds(one: Phone) -> None:
    assert one.page.evaluate(CLOCK) == ["4:00", "4:00", "3:59", "1:00", "1:00", "0:01"]


def test_runs_of_somebody_absent_are_taken_back_where_the_person_says_so(
    one: Phone, field: FieldSite
) -> None:
    row = fixed(one, free_row(one))
    row.locator("[data-all]").tap()
    one.all_sent()
    (done,) = field.entries()[-1:]
    count, before = len(done["results"]), len(field.entries())
    otherwise(one, row, "absent", "illness")
    assert f"take back the {count} runs written before?" in one.page.inner_text("#take-back-text")
    one.page.get_by_role("button", name="Take them back").tap()
    one.all_sent()
    away, back = field.entries()[before:]
    assert (away["status"], away["line"], away["reason"]) == ("absent", None, "illness")
    assert (back["replaces"], back["status"], back["results"]) == (done["id"], "absent", [])
    one.page.reload()
    one.ready()
    assert not any(box.input_value() for box in boxes(row).all())
    assert "absent: illness" in row.inner_text()


def test_runs_before_a_stop_are_kept_where_the_person_says_so(one: Phone, field: FieldSite) -> None:
    row = fixed(one, free_row(one))
    boxes(row).first.fill(f"{expected(row):.2f}")
    boxes(row).first.press("Enter")
    one.all_sent()
    before = len(field.entries())
    otherwise(one, row, "stop", "other")
    assert "take back the run written before?" in one.page.inner_text("#take-back-text")
    one.page.get_by_role("button", name="Keep them").tap()
    one.all_sent()
    (stopped,) = field.entries()[before:]
    assert (stopped["status"], stopped["line"]) == ("stopped", data(row)["line"])
    assert boxes(row).first.input_value()


def test_reasons_fit_what_they_are_of(one: Phone) -> None:
    one.page.tap("#otherwise")
    form = one.page.locator(".step.now .else form")
    form.locator("[name=reason]").select_option("kit")
    form.locator("[name=what]").select_option("absent")
    assert form.locator("[name=reason]").input_value() == "other"
    assert form.locator("[name=reason] option[value=kit]").is_disabled()
    form.locator("[name=what]").select_option("skip")
    assert form.locator("[name=reason] option[value=kit]").is_enabled()


def test_the_words_of_the_head_stand_whole_and_a_long_name_gives_way(one: Phone) -> None:
    one.page.evaluate(
        "document.querySelector('.top li:last-child a').textContent = 'assistant_one of the squad'"
    )
    today, name = one.page.locator(".top li").first, one.page.locator(".top li").last
    whole = "one => one.scrollWidth <= one.clientWidth"
    assert today.evaluate(whole)
    edge = one.page.locator(".top nav").bounding_box() or {"x": 0.0, "width": 0.0}
    box = today.bounding_box() or {"x": 0.0, "width": 9999.0}
    assert box["x"] + box["width"] <= edge["x"] + edge["width"]
    assert name.locator("a").evaluate("one => getComputedStyle(one).textOverflow") == "ellipsis"
    assert one.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
