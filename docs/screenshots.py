"""The pictures of the site in the README, made again: `.venv/bin/python docs/screenshots.py`.

It makes the invented demo squad in a temporary folder, serves it on this computer, and takes three pictures
in Chromium: the programme, its week with what the check and "why" say, and a session on a phone. It needs a
browser: the one that SPEEDLOOM_BROWSER names, else one that is installed.
"""

from __future__ import annotations

import os
import re
import runpy
import struct
import subprocess
import sys
import zlib
from base64 import b64decode, b64encode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "pictures"
LINK = re.compile(r"http://127\.0\.0\.1:\d+/sign-in/[\w-]+/")
DESK, PHONE = {"width": 1240, "height": 860}, {"width": 390, "height": 844}
LARGEST_BYTES = 150_000
"""A page with three pictures still loads quickly [bytes]."""
COLOURS = 256
PIXELS = """async (source) => { const image = new Image(); image.src = source; await image.decode();
  const sheet = new OffscreenCanvas(image.width, image.height), pen = sheet.getContext("2d");
  pen.drawImage(image, 0, 0);
  const data = pen.getImageData(0, 0, image.width, image.height).data; let text = "";
  for (let at = 0; at < data.length; at += 30000)
    text += String.fromCharCode(...data.subarray(at, at + 30000));
  return [image.width, image.height, btoa(text)]; }"""


@contextmanager
def demo_served() -> Iterator[str]:
    """Serve the demo squad; give the link that signs in."""
    with TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "speedloom", "demo", "--out", folder, "--serve", "--no-browser"]
        # The account is named after whoever is signed in on this computer.
        somebody = os.environ | {"LOGNAME": "coach", "USER": "coach"}
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=somebody) as site:
            try:
                found = next(filter(None, map(LINK.search, site.stdout or ())))
                yield found[0]
            finally:
                site.kill()


@contextmanager
def browser() -> Iterator[Browser]:
    """Start the browser that is installed."""
    path = os.environ.get("SPEEDLOOM_BROWSER") or runpy.run_path(str(ROOT / "run.py"))["installed_browser"]()
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as playing:
        started = playing.chromium.launch(executable_path=path, args=["--no-sandbox"] if root else [])
        yield started
        started.close()


def take(page: Page, name: str) -> None:
    """Take a picture of what is in sight, in the 256 colours it has most of."""
    page.wait_for_load_state("networkidle")
    source = f"data:image/png;base64,{b64encode(page.screenshot(scale='css')).decode()}"
    blank = page.context.new_page()
    width, height, text = blank.evaluate(PIXELS, source)
    blank.close()
    pixels = np.frombuffer(b64decode(text), dtype=np.uint8).reshape(height, width, 4)[:, :, :3]
    path = PICTURES / f"{name}.png"
    path.write_bytes(png(pixels))
    taken = path.stat().st_size
    print(f"{path.relative_to(ROOT)}: {taken / 1000:.0f} kB")
    if taken > LARGEST_BYTES:
        sys.exit(f"Expected at most {LARGEST_BYTES} bytes, got {taken}; take a smaller part of the page.")


def png(pixels: Any) -> bytes:  # noqa: ANN401 - height × width × 3 shares of 255
    """Write pixels as a PNG with a palette (its colour type 3); rare colours take the nearest."""
    height, width, _three = pixels.shape
    colours, where, counts = np.unique(pixels.reshape(-1, 3), axis=0, return_inverse=True, return_counts=True)
    # Shades that lie close share a place, or the many of one gradient would leave none for another's.
    close, group = np.unique(colours >> 3, axis=0, return_inverse=True)
    often = np.bincount(group.ravel(), counts, len(close))
    shades = [np.bincount(group.ravel(), counts * colours[:, one], len(close)) / often for one in range(3)]
    palette = np.stack(shades, axis=1)[np.argsort(-often, kind="stable")[:COLOURS]].round().astype(int)
    nearest = [int(((palette - colour) ** 2).sum(axis=1).argmin()) for colour in colours.astype(int)]
    index = np.array(nearest, dtype=np.uint8)[where.ravel()].reshape(height, width)
    lines = np.hstack([np.zeros((height, 1), dtype=np.uint8), index])
    head = struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)
    parts = (
        _chunk(b"IHDR", head),
        _chunk(b"PLTE", palette.astype(np.uint8).tobytes()),
        _chunk(b"IDAT", zlib.compress(lines.tobytes(), 9)),
        _chunk(b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def main() -> None:
    """Take the pictures."""
    with demo_served() as link, browser() as started:
        window = started.new_context(viewport=DESK, color_scheme="light", reduced_motion="reduce")
        page = window.new_page()
        page.goto(link)
        page.get_by_role("link", name="Demo squad").click()
        page.get_by_role("link", name="Programmes").click()
        page.get_by_role("link", name="Spring build").first.click()
        programme = page.url
        take(page, "programme")
        page.goto(f"{programme}#week")
        page.locator("#week .lines a", has_text="Why").nth(1).click()
        page.get_by_role("link", name="Every step").wait_for()
        page.locator("#week").evaluate("place => { place.blur(); place.scrollIntoView(); }")
        take(page, "week")
        page.set_viewport_size(PHONE)
        page.get_by_role("link", name="Open on the field").last.click()
        # On a day without training the page asks first for which day it is.
        trained_today = page.get_by_text("it was trained today")
        if trained_today.count():
            trained_today.click()
            page.wait_for_load_state("networkidle")
        take(page, "session")


if __name__ == "__main__":
    main()
