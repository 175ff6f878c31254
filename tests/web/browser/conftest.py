"""A real browser on the demo squad: one browser, one server and one signed-in window for all tests."""

from __future__ import annotations

import dataclasses
import importlib.util
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from field_site import PHONE, FieldSite, Phone, field_site
from house import ROOT
from live_site import ATHLETE, PASSWORD, demo_folder, served

# Playwright keeps a loop in this thread, which Django would take for code that must not touch the database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
PATIENCE_MS = 20_000


def chosen_browser() -> str:
    """Give the browser that run.py chose, or choose as it does."""
    told = os.environ.get("SPEEDLOOM_BROWSER")
    if told:
        return told
    spec = importlib.util.spec_from_file_location("run", ROOT / "run.py")
    assert spec is not None
    assert spec.loader is not None
    run = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(run)
    found: str | None = run.installed_browser()
    assert found, "no Chromium, Chrome or Edge: python3 run.py test installs one"
    return found


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """Say how the browser is started; as root it has no sandbox."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    arguments = ["--no-sandbox"] if root else []
    return {"executable_path": chosen_browser(), "args": arguments, "headless": True}


@dataclasses.dataclass(frozen=True)
class Site:
    """The site as it is served, and what stands for each part of its addresses."""

    home: str
    parts: dict[str, str]


@dataclasses.dataclass
class Heard:
    """What the browser said while pages were open, and whom it asked."""

    said: list[str] = dataclasses.field(default_factory=list)
    elsewhere: list[str] = dataclasses.field(default_factory=list)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder: Path = tmp_path_factory.mktemp("demo") / "data"
    parts = demo_folder(folder)
    with served("serve", "--data", folder) as (_process, port, link):
        yield Site(f"http://127.0.0.1:{port}", parts | {"one_time": link})


@pytest.fixture(scope="session")
def window(browser: Browser, site: Site) -> Iterator[BrowserContext]:
    """Open a window of the coach's, signed in."""
    window = browser.new_context(base_url=site.home, reduced_motion="reduce")
    window.set_default_timeout(PATIENCE_MS)
    page = window.new_page()
    page.goto(site.parts["one_time"])
    page.close()
    yield window
    window.close()


@pytest.fixture(scope="session")
def athletes_window(browser: Browser, site: Site) -> Iterator[BrowserContext]:
    """Open a window of an athlete's, signed in."""
    window = browser.new_context(base_url=site.home, reduced_motion="reduce")
    window.set_default_timeout(PATIENCE_MS)
    page = window.new_page()
    page.goto("/sign-in/")
    page.locator("[name=login]").fill(ATHLETE)
    page.locator("[name=password]").fill(PASSWORD)
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.close()
    yield window
    window.close()


@pytest.fixture
def strangers_window(browser: Browser, site: Site) -> Iterator[BrowserContext]:
    """Open a window of somebody who is not signed in."""
    window = browser.new_context(base_url=site.home, reduced_motion="reduce")
    window.set_default_timeout(PATIENCE_MS)
    yield window
    window.close()


@pytest.fixture(scope="module")
def field(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FieldSite]:
    """Serve a squad of the module's own: what is written down here must not stand in other tests' way."""
    with field_site(tmp_path_factory.mktemp("field") / "data") as site:
        yield site


@pytest.fixture(scope="module")
def in_the_hand(browser: Browser, field: FieldSite) -> Iterator[BrowserContext]:
    """Open a phone's window, signed in."""
    window = browser.new_context(viewport=PHONE, has_touch=True, reduced_motion="reduce")
    Phone(field, window).sign_in()
    yield window
    window.close()


@pytest.fixture
def one(in_the_hand: BrowserContext, field: FieldSite) -> Iterator[Phone]:
    """Open the session on that phone, upright."""
    phone = Phone(field, in_the_hand)
    phone.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    phone.open()
    yield phone
    phone.page.close()


@pytest.fixture
def heard() -> Heard:
    return Heard()


@pytest.fixture
def listen(site: Site, heard: Heard) -> Any:  # noqa: ANN401 - a function
    """Give what opens a page that is listened to."""
    host = urlsplit(site.home).netloc

    def opened(window: BrowserContext) -> Page:
        page = window.new_page()
        page.on(
            "console", lambda one: heard.said.append(one.text) if one.type in {"error", "warning"} else None
        )
        page.on("pageerror", lambda error: heard.said.append(str(error)))
        page.on("request", lambda asked: _asked(heard, asked.url, host))
        return page

    return opened


def _asked(heard: Heard, url: str, host: str) -> None:
    parts = urlsplit(url)
    # The browser's own viewer of PDF is a part of it (chrome-extension:, chrome:), and no host.
    inside = parts.scheme in {"data", "blob", "about"} or parts.scheme.startswith("chrome")
    if not inside and parts.netloc != host:
        heard.elsewhere.append(url)
