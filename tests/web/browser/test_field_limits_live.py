"""What reaches a session's page while it is open: limits, their lifting, pain; who is not "as written"."""

from __future__ import annotations

import json
import subprocess
import sys

from field_site import FieldSite, Phone, boxes
from house import ROOT

LIMIT = "Not as written. Limit: no "
HALF_A_MINUTE_MS = 31_000
OWN = "rest_of_this_test"


def stop_for_pain(one: Phone, number: int) -> str:
    """Stop somebody of the exercise that is shown for pain, and give the name."""
    row = one.page.locator(".step.now .who").nth(number)
    name = row.locator(".pick").inner_text()
    row.locator(".pick").tap()
    one.page.tap("#box-stop")
    one.page.locator(".step.now .else button.stop").tap()
    one.all_sent()
    keep = one.page.locator("#take-back button:not([value=yes])")
    if keep.is_visible():
        # Somebody wrote runs of theirs before, in another test: they stay.
        keep.tap()
        one.all_sent()
    return name


def elsewhere(field: FieldSite, deed: str, athlete: str) -> None:
    """Set or lift the limit of no training at all, as from another device."""
    code = "import sys; from web.browser.test_field_limits_live import set_or_lift as do; do(*sys.argv[1:])"
    known = [str(field.folder), field.parts["squad"], deed, athlete]
    subprocess.run([sys.executable, "-c", code, *known], cwd=ROOT / "tests", check=True)


def set_or_lift(folder: str, squad: str, deed: str, athlete: str) -> None:
    """Set a limit of no training at all, or lift what is in force."""
    from datetime import date
    from pathlib import Path

    from speedloom.store.data_folder import DataFolder
    from speedloom.web.settings import SiteOptions
    from speedloom.web.site import start

    start(SiteOptions(DataFolder(Path(folder))))
    from live_site import LOGIN
    from speedloom.store import people
    from speedloom.store.restrictions import lift_restriction, restrictions, set_restriction
    from speedloom.training.athlete import Limit, Restriction

    coach = people.find(LOGIN)
    assert coach is not None
    if deed == "lift":
        for card in restrictions(coach, squad, athlete=athlete):
            if card.restriction.ref != OWN:
                continue
            lift_restriction(coach, squad, athlete, card.id, reason="better")
        return
    said = {"set_by": "The coach", "set_as": "coach", "from": date(2020, 1, 1)}
    limits = (Limit(what="minutes", at_most=0),)
    set_restriction(coach, squad, athlete, Restriction.model_validate({"ref": OWN, "limits": limits, **said}))


def test_a_limit_reaches_an_open_page_within_half_a_minute_and_so_does_its_lifting(
    one: Phone, field: FieldSite
) -> None:
    row = one.page.locator(".step.now .who").nth(2)
    athlete = json.loads(row.get_attribute("data-row") or "")["athlete"]
    name = row.locator(".pick").inner_text()
    assert LIMIT not in row.inner_text()
    elsewhere(field, "set", athlete)
    limited = f"#{row.get_attribute('id')}[data-limit]"
    one.page.wait_for_selector(limited, timeout=HALF_A_MINUTE_MS)
    assert LIMIT in row.inner_text()
    assert f"{name}: no training" in (one.page.locator("#limits").text_content() or "")
    one.page.tap("#everybody")
    assert f"Left out, above a limit: {name}" in one.page.inner_text("#confirm-text")
    one.page.tap("#confirm-no")
    # With the next exchange with the site it is gone again, sooner than half a minute.
    elsewhere(field, "lift", athlete)
    one.write(boxes(one.page, 1)[0], "4.02")
    one.page.wait_for_selector(limited, state="detached", timeout=5000)
    assert LIMIT not in row.inner_text()
    one.page.tap("#everybody")
    assert name not in one.page.inner_text("#confirm-text")


def test_the_rest_of_a_line_is_not_done_once_the_rule_says_stop(one: Phone, field: FieldSite) -> None:
    rows = one.page.locator(".step.now .who[data-stop]:not([data-stop=''])")
    row = next(
        row
        for row in rows.all()
        if not any(box.input_value() for box in row.locator("input[data-set]").all())
    )
    slow, inputs = float(row.get_attribute("data-stop") or 0) + 0.05, row.locator("input[data-set]")
    assert inputs.count() > 2
    for number in range(2):
        inputs.nth(number).fill(f"{slow:.2f}")
        inputs.nth(number).press("Enter")
    one.all_sent()
    assert "the rule says stop" in row.inner_text()
    name, before = row.locator(".pick").inner_text(), len(field.entries())
    one.page.tap("#everybody")
    assert f"Left out, the rule says stop: {name}" in one.page.inner_text("#confirm-text")
    one.page.tap("#confirm-no")
    row.locator("[data-all]").tap()
    assert "one by one" in row.locator(".ask").inner_text()
    assert inputs.nth(2).input_value() == ""
    assert len(field.entries()) == before


def test_pain_follows_the_name_to_the_other_exercises_and_out_of_all_as_written(
    one: Phone, field: FieldSite
) -> None:
    free = one.page.locator("#step-2 .who:not([data-limit]) .pick").all_text_contents()
    names = one.page.locator(".step.now .pick").all_text_contents()
    name = stop_for_pain(one, next(at for at, other in enumerate(names) if other in free))
    exercise = one.page.get_attribute(".step.now", "data-name")
    one.step(2)
    row = one.page.locator(".step.now .who", has=one.page.get_by_role("button", name=name, exact=True))
    assert f"stopped for pain in {exercise}" in row.inner_text()
    before = len(field.entries())
    one.page.tap("#everybody")
    assert f"Left out, stopped for pain in another exercise: {name}" in one.page.inner_text("#confirm-text")
    one.page.tap("#confirm-whole")
    one.all_sent()
    athlete = json.loads(row.get_attribute("data-row") or "")["athlete"]
    assert athlete not in {entry["athlete"] for entry in field.entries()[before:]}
    one.page.reload()
    one.ready()
    assert f"stopped for pain in {exercise}" in row.inner_text()
    box = row.locator("input[data-set]").first
    box.fill("4.1")
    box.press("Enter")
    one.all_sent()
    one.page.tap("#everybody")
    assert name not in one.page.inner_text("#confirm-text").partition("another exercise")[2]
