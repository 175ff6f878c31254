"""Speed over distance of several athletes on one picture: a dash and a name at the end tell them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from speedloom.report.charts.profile_curve import SpeedCurve
from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.report.charts.widths import ON_SCREEN, text_width

MOST = 6
"""Lines that can be told apart [count]."""
DASHES = ("", "7 3", "2 3", "9 3 2 3", "5 2 1 2 1 2", "1 2")
_LEFT, _TOP, _BOTTOM, _GAP = 40.0, 24.0, 30.0, 6.0
_SIZE, _APART = 11.0, 14.0


@dataclass(frozen=True)
class Named:
    """One athlete's curve with the name that stands at its end."""

    name: str
    curve: SpeedCurve


@dataclass(frozen=True)
class _Frame:
    """Where metres and metres per second stand in the picture."""

    those: Sequence[Named]
    stretch: float
    width: float
    height: float

    @property
    def right(self) -> float:
        names = (text_width(one.name, size=_SIZE, stretch=self.stretch) for one in self.those)
        return self.width - max(names, default=0.0) - 2.0 * _GAP

    @property
    def reach(self) -> float:
        return max(one.curve.distance_m[-1] for one in self.those)

    @property
    def top(self) -> int:
        return int(max(max(one.curve.speed_mps) for one in self.those)) + 1

    def x(self, metres: float) -> float:
        return _LEFT + metres / self.reach * (self.right - _LEFT)

    def y(self, speed: float) -> float:
        return self.height - _BOTTOM - speed / self.top * (self.height - _TOP - _BOTTOM)


def side_by_side_svg(
    those: Sequence[Named],
    *,
    title: str,
    skin: SkinName = "page",
    ident: str = "beside",
    width: float = 640.0,
    height: float = 340.0,
) -> str:
    """Draw up to six curves; `ident` begins every id of the picture."""
    frame = _Frame(those[:MOST], ON_SCREEN if skin == "page" else 1.0, width, height)
    dress = Skin(skin, "curve", ident)
    summary = "; ".join(f"{one.name}: top speed {one.curve.vmax_mps:.2f} m/s" for one in frame.those)
    picture = element(
        "svg",
        element("title", title, id=f"{ident}-title"),
        element("desc", summary, id=f"{ident}-desc"),
        dress.ground(width, height),
        *(_drawn(frame, dress) if frame.those else ()),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{ident}-title {ident}-desc",
        **({"class_": dress.kind} if skin == "page" else {"width": width, "height": height}),
    )
    return str(picture)


def _drawn(frame: _Frame, skin: Skin) -> Iterator[Element]:
    yield from _axes(frame, skin)
    for place, one in enumerate(frame.those):
        points = zip(one.curve.distance_m, one.curve.speed_mps, strict=True)
        path = "M" + "L".join(f"{number(frame.x(x))} {number(frame.y(v))}" for x, v in points)
        yield element("path", d=path, stroke_dasharray=DASHES[place] or None, **skin.look("line"))
    yield from _names(frame, skin)


def _axes(frame: _Frame, skin: Skin) -> Iterator[Element]:
    for speed in range(0, frame.top + 1, 2):
        y = frame.y(speed)
        yield element("path", d=f"M{number(_LEFT)} {number(y)}H{number(frame.right)}", **skin.look("grid"))
        yield element("text", str(speed), x=_LEFT - 6.0, y=y + 4.0, text_anchor="end", **skin.look("axis"))
    yield element("text", "m/s", x=_LEFT - 6.0, y=_TOP - 10.0, text_anchor="end", **skin.look("axis"))
    for metres in range(0, int(frame.reach) + 1, 10):
        at = {"x": frame.x(metres), "y": frame.height - _BOTTOM + 18.0}
        yield element("text", f"{metres} m", text_anchor="middle", **at, **skin.look("axis"))


def _names(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Write each name at the end of its line, pushed apart where lines end close together."""
    ends = sorted((frame.y(one.curve.speed_mps[-1]), one.name) for one in frame.those)
    y = -_APART
    placed = []
    for end, name in ends:
        y = max(end + 4.0, y + _APART)
        placed.append((y, name))
    over = max(0.0, y - (frame.height - _BOTTOM))
    for at, name in placed:
        yield element("text", name, x=frame.right + _GAP, y=at - over, **skin.look("axis"))
