"""A site that can be stopped, killed and started again at the same address, and phones that write to it."""

from __future__ import annotations

import json
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page
from playwright.sync_api import TimeoutError as TooLateError

from house import ROOT
from live_site import LOGIN, PASSWORD, demo_folder

PHONE = {"width": 390, "height": 844}
PATIENCE_MS = 15_000
HELPER = "helper"


@dataclass
class FieldSite:
    """The demo squad's site, and the address of a training of fourteen with many timed runs."""

    folder: Path
    parts: dict[str, str]
    port: int
    process: subprocess.Popen[bytes] | None = None

    @property
    def home(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def session(self) -> str:
        squad, programme, day = (self.parts[name] for name in ("squad", "programme", "busy"))
        return f"/squads/{squad}/programmes/{programme}/sessions/{day}/"

    @property
    def trained_today(self) -> str:
        """What is added to the address of a training to come: nobody has trained then, but today."""
        return f"?on={self.parts['today']}"

    def start(self) -> None:
        """Start it, and wait until it answers."""
        command = [sys.executable, "-m", "speedloom", "serve", "--data", str(self.folder), "--no-browser"]
        quiet = subprocess.DEVNULL
        self.process = subprocess.Popen(
            [*command, "--port", str(self.port)], stdout=quiet, stderr=quiet, cwd=ROOT
        )
        until = time.monotonic() + 30
        while time.monotonic() < until:
            try:
                with socket.create_connection(("127.0.0.1", self.port), timeout=2):
                    return
            except OSError:
                time.sleep(0.1)
        raise AssertionError("the site does not answer")

    def kill(self) -> None:
        """End it at once, whatever it is doing."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
            self.process = None

    def entries(self) -> list[dict[str, Any]]:
        """Read what is stored of the training, in the order in which it was received, from the database."""
        code = "import sys; from field_site import print_entries; print_entries(*sys.argv[1:])"
        done = subprocess.run(
            [sys.executable, "-c", code, str(self.folder), self.parts["today"]],
            cwd=ROOT / "tests",
            capture_output=True,
            text=True,
            check=True,
        )
        return [json.loads(line) for line in done.stdout.splitlines()]


def print_entries(folder: str, day: str) -> None:
    """Print the entries of a day, one a line."""
    from speedloom.store.data_folder import DataFolder
    from speedloom.web.settings import SiteOptions
    from speedloom.web.site import start

    start(SiteOptions(DataFolder(Path(folder))))
    from speedloom.store import models

    for text in models.LogEntry.objects.filter(date=day).order_by("pk").values_list("document", flat=True):
        sys.stdout.write(text.strip() + "\n")


@contextmanager
def field_site(folder: Path) -> Iterator[FieldSite]:
    """Make the demo squad and serve it; kill what is left at the end."""
    parts = demo_folder(folder)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = int(free.getsockname()[1])
    site = FieldSite(folder, parts, port)
    site.start()
    try:
        yield site
    finally:
        site.kill()


@dataclass
class Phone:
    """A phone with the session page open."""

    site: FieldSite
    window: BrowserContext
    page: Page = field(init=False)

    def __post_init__(self) -> None:
        self.window.set_default_timeout(PATIENCE_MS)
        self.page = self.window.new_page()

    def sign_in(self, login: str = LOGIN) -> None:
        """Sign in by login and password."""
        self.page.goto(f"{self.site.home}/sign-in/")
        self.fill_in(login)
        self.page.wait_for_url(f"{self.site.home}/")

    def fill_in(self, login: str) -> None:
        """Write login and password into the page of signing in."""
        self.page.fill("[name=login]", login)
        self.page.fill("[name=password]", PASSWORD)
        self.page.press("[name=password]", "Enter")

    def open(self) -> None:
        """Open the session."""
        self.page.goto(f"{self.site.home}{self.site.session}{self.site.trained_today}")
        self.ready()

    def ready(self) -> None:
        """Wait until the page is ready to be typed into."""
        try:
            self.page.wait_for_selector("#session[data-ready]")
        except TooLateError as error:
            said = f"not ready: {self.page.url} {self.page.inner_text('body')[:300]}"
            raise AssertionError(said) from error

    def step(self, number: int) -> None:
        """Go to an exercise."""
        self.page.evaluate(f"location.hash = '#step-{number}'")
        self.page.wait_for_selector(f"#step-{number}.now")

    def kept_for_later(self) -> None:
        """Wait until the worker has the page and its files."""
        self.page.wait_for_function(
            """async () => {
              const names = (await caches.keys()).filter(one => one.startsWith("speedloom-field"));
              if (!names.length || !navigator.serviceWorker.controller) return false;
              const keys = await (await caches.open(names[0])).keys();
              return ["session_rows.js", "session_clock.js", "queue.js", "/sessions/"].every(
                one => keys.some(key => key.url.includes(one))); }"""
        )

    def write(self, box: str, value: str) -> None:
        """Type a value into a box by its name, and end with the keyboard's own Done."""
        place = self.page.locator(f"[name='box:{box}']")
        place.fill(value)
        place.press("Enter")

    def write_all(self, typed: list[tuple[str, float]]) -> None:
        """Type values into boxes, going to the exercise of each."""
        steps = self.page.eval_on_selector_all(
            "input[data-set]",
            "all => all.map(one => [one.name.slice(4), one.closest('section').dataset.step])",
        )
        of, now = dict(steps), None
        for name, value in typed:
            if of[name] != now:
                now = of[name]
                self.step(int(now))
            self.write(name, f"{value:.3f}" if isinstance(value, float) else str(value))

    def saved(self) -> int:
        """Say how many results the page says it has saved."""
        return int(self.page.get_attribute("#kept", "data-saved") or 0)

    def wait_saved(self, count: int) -> None:
        """Wait until the page says so many are saved here."""
        self.page.wait_for_function(f"() => Number(document.getElementById('kept').dataset.saved) >= {count}")

    def all_sent(self) -> None:
        """Wait until nothing waits any more."""
        self.page.wait_for_function(
            "() => document.getElementById('kept').dataset.waiting === '0'", timeout=70_000
        )


def boxes(page: Page, step: int | None = None, *, timed: bool = False) -> list[str]:
    """Name the boxes of the training, those of an exercise together; or only the timed ones."""
    where = f"#step-{step} " if step else ""
    which = "[inputmode=decimal]" if timed else ""
    names: list[str] = page.eval_on_selector_all(
        f"{where}input[data-set]{which}", "all => all.map(one => one.name.slice(4))"
    )
    return names


def results(entries: list[dict[str, Any]]) -> list[tuple[str, float]]:
    """Give what stands in every box by its name, in the order of the entries."""
    return [
        (f"{entry['line']}.{one['set']}.{one['rep'] or 0}", one["time_s"] or one["reps"])
        for entry in entries
        for one in entry["results"]
    ]
