"""Session load day by day as bars, with its 7-day and 28-day weighted averages as two lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from math import ceil, floor, log10

from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.report.charts.widths import ON_SCREEN, SEMIBOLD, text_width
from speedloom.training.programme import Programme
from speedloom.wording.dates import day_month, listing
from speedloom.wording.names import athlete_name
from speedloom.wording.units import number as plain
from speedloom.workflows.reviewed import LoadLines, Review

_LEFT, _TOP, _BOTTOM, _GAP = 40.0, 26.0, 34.0, 8.0
_SIZE, _APART, _ROOM = 11.0, 13.0, 4.0
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_MOST_TICKS = 4


@dataclass(frozen=True)
class LoadChart:
    """What the picture shows; `week_one` is the Monday of week 1, from which weeks are numbered."""

    title: str
    lines: LoadLines
    week_one: date

    @property
    def summary(self) -> str:
        """Say the picture in words, for those who do not see it."""
        lines = self.lines
        if not lines.loads:
            return "No day."
        last = lines.first + timedelta(days=len(lines.loads) - 1)
        most = max(range(len(lines.loads)), key=lambda place: lines.loads[place])
        short, long = (plain(span) for span in lines.spans_d)
        most_day = day_month(lines.first + timedelta(days=most))
        ends = (plain(line[-1], decimals=0) for line in (lines.short, lines.long))
        parts = [
            f"Session load a day, {day_month(lines.first)} to {day_month(last)}.",
            f"Most on {most_day}: {plain(lines.loads[most], decimals=0)}.",
            f"On the last day the {short}-day average is {next(ends)}, the {long}-day average {next(ends)}.",
        ]
        if lines.missing:
            days = listing(day_month(lines.first + timedelta(days=place)) for place in lines.missing)
            parts.append(f"Not written down, and drawn as nothing: {days}.")
        return " ".join(parts)


def load_chart(review: Review, athlete: str, *, programme: Programme) -> LoadChart:
    """Give the picture of an athlete's loads as far as a review goes."""
    weeks = (week for own in programme.programmes for week in own.weeks)
    return LoadChart(
        title=f"{athlete_name(programme, athlete)}: session load day by day",
        lines=next(line for line in review.lines if line.athlete == athlete),
        week_one=min(week.monday - timedelta(weeks=week.number - 1) for week in weeks),
    )


@dataclass(frozen=True)
class _Frame:
    """Where days and loads stand in the picture."""

    chart: LoadChart
    stretch: float
    width: float
    height: float

    @property
    def lines(self) -> LoadLines:
        return self.chart.lines

    @cached_property
    def words(self) -> tuple[str, str]:
        """What stands at the lines' ends."""
        spans, ends = self.lines.spans_d, (self.lines.short, self.lines.long)
        short, long = (
            f"{plain(span)}-day {plain(end[-1], decimals=0)}" for span, end in zip(spans, ends, strict=True)
        )
        return short, long

    @cached_property
    def right(self) -> float:
        """The end of the days: the words at the lines' ends stand behind it."""
        wide = max(text_width(text, size=_SIZE, stretch=SEMIBOLD * self.stretch) for text in self.words)
        return self.width - wide - _GAP - _ROOM

    @cached_property
    def day(self) -> float:
        """The width of a day."""
        return (self.right - _LEFT) / len(self.lines.loads)

    @property
    def floor(self) -> float:
        return self.height - _BOTTOM

    @cached_property
    def step(self) -> float:
        """What lies between two marks of the axis."""
        most = max(self.lines.loads) or 100.0
        scale = 10.0 ** floor(log10(most / _MOST_TICKS))
        return next(scale * step for step in _STEPS if scale * step * _MOST_TICKS >= most)

    @cached_property
    def top(self) -> float:
        """The end of the axis."""
        return self.step * max(ceil(max(self.lines.loads) / self.step), 1)

    def x(self, place: float) -> float:
        return _LEFT + place * self.day

    def y(self, load: float) -> float:
        return self.floor - load / self.top * (self.floor - _TOP)


def load_lines_svg(
    chart: LoadChart,
    *,
    skin: SkinName = "paper",
    ident: str = "loads",
    width: float = 640.0,
    height: float = 220.0,
) -> str:
    """Draw the loads; `ident` begins every id of the picture (several may stand on one page)."""
    frame = _Frame(chart, ON_SCREEN if skin == "page" else 1.0, width, height)
    dress = Skin(skin, "loads", ident)
    picture = element(
        "svg",
        element("title", chart.title, id=f"{ident}-title"),
        element("desc", chart.summary, id=f"{ident}-desc"),
        dress.ground(width, height),
        *(_drawn(frame, dress) if chart.lines.loads else ()),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{ident}-title {ident}-desc",
        **({"class_": dress.kind} if skin == "page" else {"width": width, "height": height}),
    )
    return str(picture)


def _drawn(frame: _Frame, skin: Skin) -> Iterator[Element]:
    yield from _axis(frame, skin)
    yield from _weeks(frame, skin)
    yield from _bars(frame, skin)
    yield element("path", d=_path(frame, frame.lines.long), **skin.look("long"))
    yield element("path", d=_path(frame, frame.lines.short), **skin.look("short"))
    yield from _ends(frame, skin)


def _axis(frame: _Frame, skin: Skin) -> Iterator[Element]:
    count = round(frame.top / frame.step)
    for place in range(count + 1):
        load = place * frame.step
        y = frame.y(load)
        yield element("path", d=f"M{number(_LEFT)} {number(y)}H{number(frame.right)}", **skin.look("grid"))
        yield element("text", plain(load), x=_LEFT - 6.0, y=y + 4.0, text_anchor="end", **skin.look("axis"))
    yield element("text", "load a day: effort × minutes", x=_LEFT, y=_TOP - 12.0, **skin.look("axis"))


def _weeks(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Draw a line at each Monday, and week numbers as far as they fit."""
    first, days = frame.lines.first, len(frame.lines.loads)
    monday = first - timedelta(days=first.weekday())
    every = max(ceil(24.0 / (7.0 * frame.day)), 1)
    for place in range((monday - first).days, days, 7):
        week = ((first + timedelta(days=place)) - frame.chart.week_one).days // 7 + 1
        if place > 0:
            x = number(frame.x(place))
            yield element("path", d=f"M{x} {number(_TOP)}V{number(frame.floor + 4.0)}", **skin.look("grid"))
        middle = frame.x((max(place, 0) + min(place + 7, days)) / 2.0)
        if week >= 1 and (week - 1) % every == 0:
            y = frame.height - 6.0
            yield element("text", str(week), x=middle, y=y, text_anchor="middle", **skin.look("axis"))
    yield element("text", "week", x=_LEFT - 6.0, y=frame.height - 6.0, text_anchor="end", **skin.look("axis"))


def _bars(frame: _Frame, skin: Skin) -> Iterator[Element]:
    lines, thin = frame.lines, max(frame.day * 0.7, 0.8)
    for place, load in enumerate(lines.loads):
        day = day_month(lines.first + timedelta(days=place))
        x = frame.x(place + 0.5)
        if load:
            box = {
                "x": x - thin / 2.0,
                "y": frame.y(load),
                "width": thin,
                "height": frame.floor - frame.y(load),
            }
            told = element("title", f"{day}: {plain(load, decimals=0)}")
            yield element("rect", told, **box, **skin.look("bar"))
        if place in lines.missing:
            told = element("title", f"{day}: not written down")
            yield element("text", "?", told, x=x, y=frame.floor + 13.0, **skin.look("missing"))


def _path(frame: _Frame, line: Sequence[float]) -> str:
    points = (f"{number(frame.x(place + 0.5))} {number(frame.y(load))}" for place, load in enumerate(line))
    return "M" + "L".join(points)


def _ends(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Write what the lines are at their ends, never one over the other."""
    short, long = frame.y(frame.lines.short[-1]), frame.y(frame.lines.long[-1])
    middle, apart = (short + long) / 2.0, max(abs(short - long), _APART)
    upper = min(max(middle - apart / 2.0, _TOP), frame.floor - apart)
    first, second = ("short", "long") if short <= long else ("long", "short")
    words = dict(zip(("short", "long"), frame.words, strict=True))
    for name, y in ((first, upper), (second, upper + apart)):
        yield element("text", words[name], x=frame.right + _GAP, y=y + 4.0, **skin.look(f"{name}-word"))
