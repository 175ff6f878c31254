"""The README's pictures are of the site, small, and made by a script that still finds its way."""

from __future__ import annotations

import re
import runpy
import struct

import numpy as np

from house import DOCS, ROOT

MADE = runpy.run_path(str(DOCS / "screenshots.py"))
PICTURE = re.compile(r"!\[([^]]*)\]\((docs/pictures/[\w-]+\.png)\)")


def test_the_readme_starts_with_the_job_two_commands_and_a_picture() -> None:
    parts = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert parts[0].startswith("# ")
    assert parts[1].startswith("A speed coach has")
    assert parts[2].startswith("```\npython3 run.py demo")
    assert any(PICTURE.match(part) for part in parts[3:5])


def test_the_best_three_are_there_described_and_small() -> None:
    found = PICTURE.findall((ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(found) == 3
    for words, name in found:
        data = (ROOT / name).read_bytes()
        assert len(words) > 40
        assert data.startswith(b"\x89PNG")
        assert len(data) <= MADE["LARGEST_BYTES"] == 150_000


def test_a_picture_keeps_its_colours_where_there_are_few() -> None:
    pixels = np.array([[[250, 248, 244], [11, 110, 110]], [[31, 38, 48], [250, 248, 244]]], dtype=np.uint8)
    data = MADE["png"](pixels)
    width, height, depth, kind = struct.unpack(">IIBB", data[16:26])
    assert (width, height, depth, kind) == (2, 2, 8, 3)
    place = data.index(b"PLTE")
    palette = data[place + 4 : place + 4 + 9]
    colours = {tuple(palette[at : at + 3]) for at in range(0, 9, 3)}
    assert colours == {(250, 248, 244), (11, 110, 110), (31, 38, 48)}
