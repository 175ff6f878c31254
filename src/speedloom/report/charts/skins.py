"""What a part of a picture looks like: on a page by class names, on paper by attributes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from speedloom.report.charts.colours import ACCENT, BAND, GROUND, HUES, INK, LINE, NOW, SOFT, STOP, mixed
from speedloom.report.charts.svg import Element, element

SkinName = Literal["page", "paper"]
FONT = "Source Sans Pro, Helvetica, Arial, sans-serif"
Look = Mapping[str, str | float]

_TEXT: Look = {"font_family": FONT, "fill": INK}
PAPER: Mapping[str, Look] = {
    "title": {**_TEXT, "font_size": 13, "font_weight": 600},
    "caption": {**_TEXT, "font_size": 11, "font_weight": 600},
    "week": {"font_family": FONT, "font_size": 12, "fill": SOFT, "text_anchor": "middle"},
    "week-now": {
        "font_family": FONT,
        "font_size": 12,
        "font_weight": 700,
        "fill": ACCENT,
        "text_anchor": "middle",
    },
    "note": {"font_family": FONT, "font_size": 11, "fill": SOFT, "text_anchor": "middle"},
    "label": {**_TEXT, "font_size": 12.5, "font_weight": 600, "text_anchor": "end"},
    "word": {**_TEXT, "font_size": 12, "text_anchor": "middle"},
    "event": {"font_family": FONT, "font_size": 11, "fill": SOFT, "text_anchor": "middle"},
    "event-peak": {
        "font_family": FONT,
        "font_size": 11,
        "font_weight": 600,
        "fill": STOP,
        "text_anchor": "middle",
    },
    "axis": {"font_family": FONT, "font_size": 11, "fill": SOFT},
    "band": {"fill": BAND},
    "now": {"fill": NOW},
    "plain": {"fill": "#f6f3ec"},
    "stripe": {"stroke": LINE, "stroke_width": 1.6},
    "ground": {"fill": GROUND},
    "under": {"fill": GROUND},
    "warp": {"stroke": LINE, "stroke_width": 0.8},
    "warp-strong": {"stroke": "#b9b09e", "stroke_width": 0.8},
    "pin": {"fill": "#9aa1ab"},
    "pin-peak": {"fill": STOP},
    "done": {"fill": "none", "stroke": INK, "stroke_width": 1.1},
    "grid": {"stroke": LINE, "stroke_width": 0.8},
    "share": {"stroke": SOFT, "stroke_width": 0.9, "stroke_dasharray": "3 3"},
    "interval": {"stroke": INK, "stroke_width": 3},
    "line-before": {"fill": "none", "stroke": SOFT, "stroke_width": 1.6, "stroke_dasharray": "5 3"},
    "band-before": {"fill": mixed(SOFT, 0.16)},
    "line": {"fill": "none", "stroke": ACCENT, "stroke_width": 2},
    "band-around": {"fill": mixed(ACCENT, 0.18)},
    "bar": {"fill": mixed(SOFT, 0.3)},
    "short": {"fill": "none", "stroke": ACCENT, "stroke_width": 2.2},
    "long": {"fill": "none", "stroke": INK, "stroke_width": 1.6, "stroke_dasharray": "6 3"},
    "missing": {
        "font_family": FONT,
        "font_size": 11,
        "font_weight": 700,
        "fill": INK,
        "text_anchor": "middle",
    },
    "short-word": {"font_family": FONT, "font_size": 11, "font_weight": 600, "fill": ACCENT},
    "long-word": {"font_family": FONT, "font_size": 11, "fill": INK},
}
"""How each part of a picture is drawn on paper; the parts are a page's classes, too."""


@dataclass(frozen=True)
class Skin:
    """A page's skin or paper's; `kind` begins the classes, `ident` tells several pictures on a page apart."""

    name: SkinName
    kind: str
    ident: str

    def look(self, part: str) -> dict[str, str | float]:
        """Give a part's attributes."""
        return {"class_": self.classed(part)} if self.name == "page" else dict(PAPER[part])

    def ground(self, width: float, height: float) -> Element | None:
        """Give paper its white, so that a picture by itself is readable anywhere; a page has its own."""
        if self.name == "page":
            return None
        return element("rect", width=width, height=height, **self.look("ground"))

    def hue(
        self, key: str, *, of: Literal["fill", "stroke", "stop"], share: float = 1.0
    ) -> dict[str, str | float]:
        """Give the attributes that colour a part in a method's hue, thinned to a share of it."""
        if self.name == "page":
            opacity = {f"{of}_opacity": share} if share < 1.0 else {}
            return {"class_": f"{self.kind}-{of} {self.kind}-{key}", **opacity}
        name = "stop_color" if of == "stop" else of
        return {name: mixed(HUES[key], share)}

    def classed(self, part: str) -> str:
        """Give the class of a part."""
        return f"{self.kind}-{part}"
