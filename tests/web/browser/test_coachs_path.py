"""From pasted splits of a new athlete to a printed week: at most 14 actions, each found by what is read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

MOST_ACTIONS = 14
A_MINUTE_MS = 60_000
SPLITS = "Name\t10 m\t20 m\t30 m\nTilde Brink\t1.92\t3.31\t4.62\nTilde Brink\t1.94\t3.33\t4.65"
PASTE = """(input, text) => { const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  input.dispatchEvent(new ClipboardEvent("paste", {clipboardData, bubbles: true, cancelable: true})); }"""
MEANWHILE = """() => addEventListener("submit", () => {
  const told = document.querySelector(".working"), button = document.querySelector("button[aria-busy]");
  const seen = {said: told?.textContent ?? "", role: told?.getAttribute("role"), waits: button?.innerText};
  sessionStorage.setItem("meanwhile", JSON.stringify(seen)); })"""


@dataclass
class Coach:
    """Somebody who clicks what can be read, and is counted."""

    page: Page
    did: list[str] = field(default_factory=list)

    def press(self, role: Any, name: str, *, twice: bool = False) -> None:  # noqa: ANN401 - as browsers know them
        self._act(name, self.page.get_by_role(role, name=name).first).click(click_count=1 + twice)

    def tick(self, label: str) -> None:
        self._act(label, self.page.get_by_label(label)).check()

    def choose(self, label: str, option: str) -> None:
        self._act(f"{label}: {option}", self.page.get_by_label(label, exact=True)).select_option(label=option)

    def paste(self, label: str, text: str) -> None:
        cell = self._act(label, self.page.get_by_label(label))
        cell.click()
        self._act("paste", cell).evaluate(PASTE, text)

    def _act(self, what: str, found: Locator) -> Locator:
        expect(found).to_be_visible()
        self.did.append(what)
        return found


def test_from_pasted_splits_to_a_printed_week(
    window: BrowserContext,
    listen: Callable[[BrowserContext], Page],
    heard: Any,  # noqa: ANN401
) -> None:
    page = listen(window)
    page.goto("/")
    coach = Coach(page)
    coach.press("link", "Demo squad")
    coach.press("link", "Tests")
    coach.paste("Row 1, 1", SPLITS)
    coach.press("button", "Look at them")
    expect(page.get_by_role("heading", name="What this says")).to_be_visible()
    coach.press("button", "Save")
    coach.press("link", "Make a programme")
    coach.tick("I asked everybody: nothing hurts today, and hard work is cleared.")
    page.set_default_timeout(A_MINUTE_MS)
    _made_with_progress(coach)
    _printed(coach)
    assert len(coach.did) <= MOST_ACTIONS, coach.did
    page.goto("/")
    coach.press("link", "Demo squad")
    coach.press("link", "Programmes")
    expect(page.get_by_role("link", name="Spring build 2")).to_have_count(1)
    assert heard.said == []
    assert heard.elsewhere == []
    page.close()


def _made_with_progress(coach: Coach) -> None:
    """Make the programme: while it is made the button waits, and it is said that one may leave."""
    page = coach.page
    button = page.get_by_role("button", name="Make the programme")
    # The answer takes seconds: the page as it is meanwhile is looked at before it is awaited.
    page.evaluate(MEANWHILE)
    # Pressed twice, as impatient people do: one programme is made.
    coach.press("button", "Make the programme", twice=True)
    expect(button).to_have_count(0, timeout=A_MINUTE_MS)
    meanwhile = page.evaluate("JSON.parse(sessionStorage.getItem('meanwhile'))")
    assert meanwhile["waits"] == "Make the programme"
    assert meanwhile["role"] == "status"
    assert "You may leave this page" in meanwhile["said"]
    expect(page.get_by_text("The programme is made.")).to_be_visible()


def _printed(coach: Coach) -> None:
    """Print the new athlete's own week."""
    page = coach.page
    coach.choose("Athlete", "Tilde Brink")
    coach.press("button", "Show")
    expect(page.get_by_role("heading", name="Progression of Tilde Brink")).to_be_visible()
    page.get_by_text("Print or send").click()
    coach.did.append("Print or send")
    with page.expect_response(lambda answer: "/hand-out/athlete/" in answer.url) as answer:
        coach.press("link", "Tilde Brink's own sheet, week 1 (PDF)")
    assert answer.value.status == 200
    assert answer.value.headers["content-type"] == "application/pdf"
