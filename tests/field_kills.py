"""A phone and its site, killed at seeded moments while results are typed: what was saved is there, once.

`python tests/field_kills.py 20` kills twenty times; exit code 1 when something confirmed was lost or doubled.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from contextlib import suppress
from pathlib import Path
from threading import Timer

from playwright.sync_api import BrowserContext, BrowserType, Error, sync_playwright

from field_site import PHONE, FieldSite, Phone, boxes, field_site, results

LONGEST_S = 1.0
"""The latest moment of a kill after typing began again [s]."""
LEAST, MOST = 3.0, 6.0
"""Times that are typed: none of them strange enough to be refused [s]."""


class Killed:
    """A phone whose browser is killed and opened again, with all that it said it had saved."""

    def __init__(self, site: FieldSite, kind: BrowserType, browser: str, folder: Path) -> None:
        """Open it and sign in."""
        self.site, self.kind, self.browser, self.folder = site, kind, browser, folder
        self.saved: dict[str, float] = {}
        self.phone = self._opened()
        self.phone.sign_in()
        self.cookies = self.phone.window.cookies()
        self.phone.open()
        self.phone.kept_for_later()
        self.timed = set(boxes(self.phone.page, timed=True))
        self.left = boxes(self.phone.page)

    def _opened(self) -> Phone:
        root = hasattr(os, "geteuid") and os.geteuid() == 0
        window: BrowserContext = self.kind.launch_persistent_context(
            self.folder,
            executable_path=self.browser,
            args=["--no-sandbox"] if root else [],
            headless=True,
            viewport=PHONE,  # type: ignore[arg-type]
        )
        return Phone(self.site, window)

    def type_until(self, until: float, chance: random.Random, *, most: int) -> None:
        """Type one result after another until a moment; keep those the page said were saved."""
        stop = len(self.left) - most
        said = self.phone.saved()
        while len(self.left) > stop and time.monotonic() < until:
            name = self.left.pop(0)
            value = round(chance.uniform(LEAST, MOST), 2) if name in self.timed else chance.randint(1, 12)
            self.phone.write_all([(name, value)])
            said += 1
            self.phone.wait_saved(said)
            self.saved[name] = value

    def end(self) -> None:
        """End the browser at once."""
        mine = str(self.folder).encode()
        for entry in Path("/proc").iterdir():
            with suppress(OSError):
                if entry.name.isdecimal() and mine in (entry / "cmdline").read_bytes():
                    os.kill(int(entry.name), signal.SIGKILL)

    def again(self) -> None:
        """Open it again at the session, without signing in anew."""
        with suppress(Error):
            self.phone.window.close()
        for lock in self.folder.glob("Singleton*"):
            lock.unlink(missing_ok=True)
        self.phone = self._opened()
        # A browser writes cookies to the disk half a minute late: that is not what is looked at here.
        self.phone.window.add_cookies(self.cookies)  # type: ignore[arg-type]
        self.phone.open()


def found_wrong(saved: dict[str, float], site: FieldSite) -> list[str]:
    """Say what was saved and is not there, or not once, or otherwise than it was typed."""
    stored = results(site.entries())
    times, values = Counter(name for name, _ in stored), dict(stored)
    lost = [f"{name} is there {times[name]} times" for name in saved if times[name] != 1]
    other = [name for name, value in saved.items() if values.get(name) not in {None, value}]
    return lost + [f"{name} is {values[name]}, was {saved[name]}" for name in other]


def main(kills: int, browser: str, *, seed: int = 0) -> int:
    """Kill that many times, browser and site by turns, and give how much was lost or doubled."""
    chance = random.Random(seed)
    with (
        tempfile.TemporaryDirectory(prefix="speedloom-field-") as place,
        field_site(Path(place) / "data") as site,
        sync_playwright() as playwright,
    ):
        return _killed(kills, site, playwright.chromium, browser, Path(place) / "browser", chance)


def _killed(
    kills: int, site: FieldSite, kind: BrowserType, browser: str, folder: Path, chance: random.Random
) -> int:
    one = Killed(site, kind, browser, folder)
    most = max(1, len(one.left) // kills)
    for number in range(kills):
        browser_now = number % 2 == 1
        timer = Timer(chance.uniform(0, LONGEST_S), one.end if browser_now else site.kill)
        timer.start()
        with suppress(Error):
            one.type_until(time.monotonic() + LONGEST_S, chance, most=most)
        timer.join()
        one.again() if browser_now else site.start()
    one.phone.page.reload()
    one.phone.ready()
    one.phone.all_sent()
    wrong = found_wrong(one.saved, site)
    one.phone.window.close()
    sys.stdout.write("".join(f"{line}\n" for line in wrong))
    sys.stdout.write(f"{kills} kills, {len(one.saved)} results saved, {len(wrong)} lost or doubled\n")
    return len(wrong)


if __name__ == "__main__":
    sys.exit(bool(main(int(sys.argv[1]), sys.argv[2], seed=int(sys.argv[3]) if len(sys.argv) > 3 else 0)))
