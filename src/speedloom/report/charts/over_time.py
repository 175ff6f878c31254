"""One measure over the days it was tested: a point a day with its error, joined by a thin line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.report.charts.widths import ON_SCREEN, text_width
from speedloom.wording.dates import MONTHS

_LEFT, _RIGHT, _TOP, _BOTTOM = 46.0, 16.0, 24.0, 24.0
_POINT, _SIZE = 3.5, 11.0
_ROOM = 0.12
"""Empty room above and below the points, as a share of what they span."""


@dataclass(frozen=True)
class DayPoint:
    """A day's value and the standard error it is known by, both in the measure's unit."""

    day: date
    value: float
    error: float | None = None


@dataclass(frozen=True)
class OverTime:
    """What the picture shows; `decimals` is how its values are written."""

    title: str
    unit: str
    points: tuple[DayPoint, ...]
    decimals: int = 2

    @property
    def summary(self) -> str:
        """Say the picture in words, for those who do not see it."""
        said = (f"{_short(one.day)}: {one.value:.{self.decimals}f} {self.unit}" for one in self.points)
        return "; ".join(said)


def _short(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"


@dataclass(frozen=True)
class _Frame:
    chart: OverTime
    stretch: float
    width: float
    height: float

    @property
    def ends(self) -> tuple[float, float]:
        low = min(one.value - (one.error or 0.0) for one in self.chart.points)
        high = max(one.value + (one.error or 0.0) for one in self.chart.points)
        room = (high - low or abs(high) * _ROOM or 1.0) * _ROOM
        return low - room, high + room

    def x(self, day: date) -> float:
        first, last = self.chart.points[0].day, self.chart.points[-1].day
        share = (day - first).days / (last - first).days if last > first else 0.5
        inner = _LEFT + 14.0
        return inner + share * (self.width - _RIGHT - 14.0 - inner)

    def y(self, value: float) -> float:
        low, high = self.ends
        return self.height - _BOTTOM - (value - low) / (high - low) * (self.height - _TOP - _BOTTOM)


def over_time_svg(
    chart: OverTime,
    *,
    skin: SkinName = "page",
    ident: str = "time",
    width: float = 320.0,
    height: float = 170.0,
) -> str:
    """Draw a measure over time; `ident` begins every id of the picture (several may stand on one page)."""
    frame = _Frame(chart, ON_SCREEN if skin == "page" else 1.0, width, height)
    dress = Skin(skin, "curve", ident)
    picture = element(
        "svg",
        element("title", chart.title, id=f"{ident}-title"),
        element("desc", chart.summary, id=f"{ident}-desc"),
        dress.ground(width, height),
        *(_drawn(frame, dress) if chart.points else ()),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{ident}-title {ident}-desc",
        **({"class_": dress.kind} if skin == "page" else {"width": width, "height": height}),
    )
    return str(picture)


def _drawn(frame: _Frame, skin: Skin) -> Iterator[Element]:
    yield from _axis(frame, skin)
    points = frame.chart.points
    line = "M" + "L".join(f"{number(frame.x(one.day))} {number(frame.y(one.value))}" for one in points)
    yield element("path", d=line, **skin.look("line"))
    for one in points:
        x, y = frame.x(one.day), frame.y(one.value)
        told = element("title", f"{_short(one.day)}: {one.value:.{frame.chart.decimals}f} {frame.chart.unit}")
        if one.error:
            ends = (number(frame.y(one.value + one.error)), number(frame.y(one.value - one.error)))
            yield element("path", d=f"M{number(x)} {ends[0]}V{ends[1]}", **skin.look("share"))
        yield element(
            "path", told, d=f"M{number(x - _POINT)} {number(y)}H{number(x + _POINT)}", **skin.look("interval")
        )
    yield from _days(frame, skin)


def _axis(frame: _Frame, skin: Skin) -> Iterator[Element]:
    low, high = frame.ends
    for share in (0.0, 0.5, 1.0):
        value = low + share * (high - low)
        y = frame.y(value)
        yield element(
            "path", d=f"M{number(_LEFT)} {number(y)}H{number(frame.width - _RIGHT)}", **skin.look("grid")
        )
        text = f"{value:.{frame.chart.decimals}f}"
        yield element("text", text, x=_LEFT - 6.0, y=y + 4.0, text_anchor="end", **skin.look("axis"))
    yield element(
        "text", frame.chart.unit, x=_LEFT - 6.0, y=_TOP - 12.0, text_anchor="end", **skin.look("axis")
    )


def _days(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Name the first and the last day, and the first alone where there is no room for both."""
    first, last = frame.chart.points[0].day, frame.chart.points[-1].day
    texts = [(first, _short(first), "start")]
    wide = text_width(_short(first), size=_SIZE, stretch=frame.stretch)
    if last > first and frame.width - _LEFT - _RIGHT > 2.2 * wide:
        texts.append((last, _short(last), "end"))
    for day, text, anchor in texts:
        side = "middle" if first == last else anchor
        at = {"x": frame.x(day), "y": frame.height - 6.0}
        yield element("text", text, text_anchor=side, **at, **skin.look("axis"))
