"""The session by thumb: taps, reach, contrast in sunlight; strange values; a sheet by keyboard alone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from field_site import PHONE, FieldSite, Phone, boxes

ATHLETES = 14
MOST_ACTIONS = 90
SUNLIGHT = 7.0
CONTRAST = """selector => {
  const canvas = document.createElement("canvas").getContext("2d");
  const rgb = text => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = text; canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data]; };
  const light = ([r, g, b]) => { const part = v => { v /= 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b); };
  return [...document.querySelectorAll(selector)].filter(one => one.checkVisibility()).map(one => {
    const ground = of => rgb(getComputedStyle(of).backgroundColor);
    let below = one;
    while (ground(below)[3] === 0) below = below.parentElement;
    const two = [light(rgb(getComputedStyle(one).color)), light(ground(below))];
    return (Math.max(...two) + 0.05) / (Math.min(...two) + 0.05); }); }"""
"""The contrast ratio of WCAG 2.2 (read) of each visible element: (L1 + 0.05) / (L2 + 0.05)."""

IN_VIEW = """() => { const bar = document.getElementById("bar").getBoundingClientRect().top;
  const head = document.querySelector(".step.now h2").getBoundingClientRect().top;
  const whole = one => one.getBoundingClientRect().bottom <= bar;
  return head < 0 ? 0 : [...document.querySelectorAll(".step.now .who")].filter(whole).length; }"""
"""How many rows stand whole between the head of the exercise and the bar."""


class Taps:
    """Counts what a thumb does."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def tap(self, selector: str) -> None:
        self.page.tap(selector)
        self.count += 1


def test_a_repetition_is_two_taps_and_a_number(one: Phone, field: FieldSite) -> None:
    name = boxes(one.page, 1)[0]
    taps, before = Taps(one.page), len(field.entries())
    taps.tap(f"[name='box:{name}']")
    one.page.keyboard.type("4.02")
    taps.tap("#box-done")
    one.all_sent()
    one.page.wait_for_function("() => document.getElementById('kept').textContent === 'Everything saved'")
    assert taps.count == 2
    assert [one["time_s"] for one in field.entries()[-1]["results"]] == [4.02]
    assert len(field.entries()) == before + 1
    assert one.page.inner_text(".step.now .rest").startswith("rest "), "the rest of this athlete runs"


def test_done_as_written_for_fourteen_is_one_tap_and_one_confirmation(one: Phone, field: FieldSite) -> None:
    one.step(3)
    taps, before = Taps(one.page), len(field.entries())
    taps.tap("#everybody")
    assert f"{ATHLETES} athletes" in one.page.inner_text("#confirm-text")
    taps.tap("#confirm-yes")
    one.all_sent()
    new = field.entries()[before:]
    assert taps.count == 2
    assert len({entry["athlete"] for entry in new}) == len(new) == ATHLETES
    assert all(result["time_s"] is None for entry in new for result in entry["results"]), "nothing is made up"
    taps.tap("#everybody")
    assert "written already" in one.page.inner_text("#confirm-text")


def test_a_row_is_one_tap(one: Phone, field: FieldSite) -> None:
    one.step(2)
    before = len(field.entries())
    one.page.locator(".step.now [data-all]").first.tap()
    one.all_sent()
    (new,) = field.entries()[before:]
    assert new["status"] == "done"
    assert len(new["results"]) > 1


@pytest.mark.parametrize(("step", "value", "load"), [(1, "0.9", None), (4, "5 x 400", 400)])
def test_a_strange_value_gets_a_question_and_stays(
    one: Phone, field: FieldSite, step: int, value: str, load: float | None
) -> None:
    one.step(step)
    name = boxes(one.page, step)[-1]
    one.write(name, value)
    one.page.wait_for_selector(".step.now .ask:not([hidden])")
    asked = one.page.locator(".step.now .ask:not([hidden])").inner_text()
    assert "?" in asked
    assert "Kept as typed, marked unusual" in asked
    one.all_sent()
    (result,) = field.entries()[-1]["results"]
    assert result["mark"] == "unusual"
    assert (result["time_s"] == 0.9) if load is None else (result["load_kg"] == load)
    one.page.reload()
    one.ready()
    assert one.page.input_value(f"[name='box:{name}']") == value.replace("0.9", "0.90")
    assert "odd" in (one.page.locator(f"[name='box:{name}']").locator("..").get_attribute("class") or "")


def test_what_cannot_be_read_stays_in_its_box(one: Phone, field: FieldSite) -> None:
    name, before = boxes(one.page, 1)[-1], len(field.entries())
    one.write(name, "four")
    assert "Expected a time" in one.page.locator(".step.now .ask:not([hidden])").inner_text()
    assert one.page.input_value(f"[name='box:{name}']") == "four"
    assert len(field.entries()) == before


def test_pain_stops_the_exercise_says_the_caution_and_sets_a_limit(one: Phone, field: FieldSite) -> None:
    one.step(2)
    row = one.page.locator(".step.now .who").nth(3)
    row.locator(".pick").tap()
    one.page.tap("#box-stop")
    assert "go to a professional" in one.page.locator(".step.now .else .care").inner_text()
    one.page.locator(".step.now .else button.stop").tap()
    one.all_sent()
    entry = field.entries()[-1]
    assert (entry["status"], entry["reason"]) == ("stopped", "pain")
    assert "stopped: pain" in row.inner_text()
    assert "no more of this exercise" in row.inner_text()
    before = len(field.entries())
    one.page.tap("#everybody")
    one.page.tap("#confirm-yes")
    one.all_sent()
    assert entry["athlete"] not in {new["athlete"] for new in field.entries()[before:]}


def test_a_swap_leaves_the_line_out_and_writes_what_was_done(one: Phone, field: FieldSite) -> None:
    one.step(2)
    row = one.page.locator(".step.now .who").nth(5)
    before = len(field.entries())
    one.page.tap("#otherwise")
    form = one.page.locator(".step.now .else form")
    form.locator("[name=line]").select_option(index=5)
    form.locator("[name=what]").select_option(label=form.locator("[name=what] option").nth(1).inner_text())
    form.locator("[name=reason]").select_option("kit")
    form.locator("button.stop").tap()
    row.locator("input[data-set]").first.fill("3.5")
    row.locator("input[data-set]").first.press("Enter")
    one.all_sent()
    left, instead, done = field.entries()[before:]
    assert (left["status"], left["reason"]) == ("skipped", "kit")
    assert (instead["status"], instead["line"], instead["results"]) == ("extra", None, [])
    assert done["replaces"] == instead["id"]
    assert done["exercise"] == instead["exercise"] != left["exercise"]
    assert [result["time_s"] for result in done["results"]] == [3.5]
    assert [result["load_kg"] for result in done["results"]] == [None]
    one.page.reload()
    one.ready()
    assert row.locator("input[data-set]").first.input_value() == "3.50"


def test_everything_that_is_done_often_is_within_reach_of_a_thumb(one: Phone) -> None:
    one.step(2)

    def low(*selectors: str) -> list[float]:
        return [(one.page.locator(which).bounding_box() or {"y": 0.0})["y"] for which in selectors]

    half = PHONE["height"] / 2
    assert min(low("#back", "#otherwise", "#everybody", "#on")) > half
    last = one.page.locator(".step.now .who input[data-set]").last
    last.tap()
    assert min(low("#box-done", "#box-stop")) > half
    one.page.keyboard.press("Escape")
    # The rows can be moved until any of them lies in the lower half, above the bar.
    one.page.evaluate("scrollTo(0, document.body.scrollHeight)")
    box = last.bounding_box() or {"y": 0.0, "height": 0.0}
    bar = one.page.locator("#bar").bounding_box() or {"y": 0.0}
    assert box["y"] + box["height"] <= bar["y"]
    small = one.page.eval_on_selector_all(
        "#session button, #session input, #session select, #session a",
        "all => all.filter(one => one.checkVisibility() && one.offsetHeight < 44).map(one => one.outerHTML)",
    )
    assert small == []
    sideways = one.page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert sideways <= 0


def test_four_athletes_are_in_view_under_the_head_of_every_exercise(one: Phone) -> None:
    steps = one.page.locator("section[data-step]:has([data-row])").count()
    assert steps > 2
    seen = []
    for number in range(1, steps + 1):
        one.step(number)
        seen.append(one.page.evaluate(IN_VIEW))
    assert min(seen) >= 4, seen
    one.page.set_viewport_size({"width": 320, "height": 700})
    assert one.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_big_numbers_can_be_read_in_sunlight(one: Phone, scheme: str) -> None:
    one.page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    one.step(2)
    one.page.locator(".step.now input[data-set]").last.tap()
    ratios = one.page.evaluate(CONTRAST, ".big, .box input, #now-name")
    assert len(ratios) > ATHLETES
    assert min(ratios) >= SUNLIGHT


class Keys:
    """Counts keys that move, and one for each value typed."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def press(self, key: str) -> None:
        self.page.keyboard.press(key)
        self.count += 1

    def value(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.count += 1


def test_a_sheet_of_fourteen_by_keyboard_in_under_ninety_actions(one: Phone, field: FieldSite) -> None:
    """A filled sheet: every sled time, every effort, somebody absent, a set left out; the rest as written."""
    before = len(field.entries())
    one.page.set_viewport_size({"width": 1240, "height": 900})
    one.page.goto(f"{field.home}{field.session}paper/{field.trained_today}")
    one.page.wait_for_function("() => document.activeElement?.name?.startsWith('box:')")
    sled = one.page.locator("section:nth-of-type(2) tbody tr:not(.group)")
    assert sled.count() == ATHLETES
    keys, times = Keys(one.page), sled.locator("input[data-kind=times]").count()
    keys.press("PageDown")
    for number in range(times):
        keys.value(f"3.{number % 60 + 10}")
    keys.press("PageDown")
    keys.value("-")
    keys.press("PageDown")
    keys.press("PageDown")
    for number in range(ATHLETES):
        keys.value(str(number % 8 + 2))
    keys.press("Control+Enter")
    one.page.wait_for_selector("#session")
    new = field.entries()[before:]
    assert keys.count < MOST_ACTIONS, keys.count
    assert sum(entry["effort"] is not None for entry in new) == ATHLETES
    assert sum(one["time_s"] is not None for entry in new for one in entry["results"]) == times
