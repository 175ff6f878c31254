"""The weave as SVG, in either skin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from speedloom.report.charts.colours import depth
from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.report.charts.weave import Thread, WeaveData
from speedloom.report.charts.weave_geometry import Geometry, Measure, Placed, Point
from speedloom.report.charts.widths import ON_SCREEN

_BASELINE = 0.34


def weave_svg(data: WeaveData, *, skin: SkinName = "paper", ident: str = "weave") -> str:
    """Draw the weave; `ident` begins every id of the picture (several may stand on one page)."""
    measure = Measure(stretch=ON_SCREEN, left=150.0) if skin == "page" else Measure()
    return str(_picture(Geometry(data, measure), Skin(skin, "weave", ident)))


def _picture(weave: Geometry, skin: Skin) -> Element:
    width, height = weave.measure.width, weave.height
    definitions = [_gradient(weave, thread, skin) for thread in weave.data.threads]
    return element(
        "svg",
        element("title", weave.data.title, id=f"{skin.ident}-title"),
        element("desc", weave.data.summary, id=f"{skin.ident}-desc"),
        element("defs", *definitions),
        skin.ground(width, height),
        *_ground(weave, skin),
        *_head(weave, skin),
        *_warp(weave, skin),
        *_threads(weave, skin),
        *_pins(weave, skin),
        *_touch(weave, skin),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{skin.ident}-title {skin.ident}-desc",
        **({"class_": skin.kind} if skin.name == "page" else {"width": width, "height": height}),
    )


def _gradient(weave: Geometry, thread: Thread, skin: Skin) -> Element:
    reach = weave.column * len(weave.data.weeks)
    stops = [
        element(
            "stop",
            offset=f"{number(100.0 * (weave.middle(place) - weave.measure.left) / reach)}%",
            **skin.hue(thread.key, of="stop", share=depth(week.specificity)),
        )
        for place, week in enumerate(weave.data.weeks)
    ]
    # In the picture's own units: a hairline has no box a gradient could be measured by.
    edges = {"x1": weave.measure.left, "x2": weave.measure.left + reach, "y1": 0.0, "y2": 0.0}
    ident = f"{skin.ident}-{thread.key}"
    return element("linearGradient", *stops, id=ident, gradientUnits="userSpaceOnUse", **edges)


def _ground(weave: Geometry, skin: Skin) -> Iterator[Element]:
    top, bottom = weave.measure.lanes_top - 2.0, weave.lanes_bottom + 2.0
    for place, week in enumerate(weave.data.weeks):
        start, end = weave.edge(place), weave.edge(place + 1)
        if week.number == weave.data.this_week:
            head = weave.measure.band_top + weave.measure.band_height + 3.0
            yield _box(start, head, weave.column, bottom - head, skin.look("now"), radius=4.0)
        elif week.pattern == "plain":
            yield _box(start, top, weave.column, bottom - top, skin.look("plain"))
        if week.pattern == "striped":
            yield element("path", d=_stripes(start, top, end, bottom), **skin.look("stripe"))


def _box(
    x: float, y: float, width: float, height: float, look: dict[str, str | float], *, radius: float = 0.0
) -> Element:
    return element("rect", x=x, y=y, width=width, height=height, rx=radius or None, **look)


def _stripes(left: float, top: float, right: float, bottom: float) -> str:
    """Write slanting lines that end at the box's own edges, so that no clipping is needed."""
    parts: list[str] = []
    total = left + top
    step = 8.0
    sum_ = total + step - total % step
    while sum_ < right + bottom:
        start = max(left, sum_ - bottom)
        end = min(right, sum_ - top)
        if end > start:
            parts.append(f"M{number(start)} {number(sum_ - start)}L{number(end)} {number(sum_ - end)}")
        sum_ += step
    return "".join(parts)


def _head(weave: Geometry, skin: Skin) -> Iterator[Element]:
    measure = weave.measure
    for cycle, caption in zip(weave.data.mesocycles, weave.captions(), strict=True):
        start, end = weave.edge(cycle.first) + 1.5, weave.edge(cycle.last + 1) - 1.5
        yield _box(start, measure.band_top, end - start, measure.band_height, skin.look("band"), radius=3.0)
        if caption is not None:
            left = {"x": caption.x - caption.width / 2.0, "y": caption.y}
            yield element("text", caption.text, **left, **skin.look("caption"))
    for place, week in enumerate(weave.data.weeks):
        look = "week-now" if week.number == weave.data.this_week else "week"
        yield element("text", str(week.number), x=weave.middle(place), y=measure.weeks_at, **skin.look(look))
    for note in weave.notes():
        if note is not None:
            yield _text(note, skin, "note")


def _text(placed: Placed, skin: Skin, part: str, *, drop: float = 0.0) -> Element:
    return element("text", placed.text, x=placed.x, y=placed.y + drop, **skin.look(part))


def _warp(weave: Geometry, skin: Skin) -> Iterator[Element]:
    top, bottom = weave.measure.lanes_top - 2.0, weave.lanes_bottom + 2.0
    for place in range(len(weave.data.weeks) + 1):
        yield element(
            "path",
            d=f"M{number(weave.edge(place))} {number(top)}V{number(bottom)}",
            **_warp_look(weave, skin, place),
        )


def _warp_look(weave: Geometry, skin: Skin, place: int) -> dict[str, str | float]:
    border = any(place == cycle.first for cycle in weave.data.mesocycles) and place > 0
    return skin.look("warp-strong" if border else "warp")


def _threads(weave: Geometry, skin: Skin) -> Iterator[Element]:
    for lane, thread in enumerate(weave.data.threads):
        axis = weave.axis(lane)
        outline = weave.outline(thread.thickness)
        words = weave.words(lane)
        label = {"x": weave.measure.left - 12.0, "y": axis + 4.0}
        yield element(
            "g",
            element("text", thread.label, **label, **skin.look("label")),
            # The colours of a page are thinned by opacity: the stripes behind must not shine through.
            element("path", d=_ribbon(outline, axis), **skin.look("under")),
            element("path", d=_ribbon(outline, axis), fill=f"url(#{skin.ident}-{thread.key})"),
            element(
                "path",
                d=_edge(outline, axis, side=-1.0) + _edge(outline, axis, side=1.0),
                stroke_width=0.9,
                **({"fill": "none"} if skin.name == "paper" else {}),
                **skin.hue(thread.key, of="stroke"),
            ),
            *_over(weave, lane, words, skin),
            *_done(weave, thread, axis, skin),
            *(_text(word, skin, "word", drop=weave.measure.text * _BASELINE) for word in words),
            **({"class_": skin.classed("thread"), "data_thread": thread.key} if skin.name == "page" else {}),
        )


def _over(weave: Geometry, lane: int, words: Sequence[Placed], skin: Skin) -> Iterator[Element]:
    """Lay every second warp line over the thread, as cloth is woven, but never through a word."""
    axis = weave.axis(lane)
    shares = weave.data.threads[lane].thickness
    for place in range(1, len(weave.data.weeks)):
        x = weave.edge(place)
        clear = all(abs(x - word.x) > word.width / 2.0 + 4.0 for word in words)
        if (place + lane) % 2 == 0 and clear:
            half = weave.half_at(shares, x) + 0.5
            line = f"M{number(x)} {number(axis - half)}V{number(axis + half)}"
            yield element("path", d=line, **_warp_look(weave, skin, place))


def _done(weave: Geometry, thread: Thread, axis: float, skin: Skin) -> Iterator[Element]:
    done = [share for share in thread.done if share is not None]
    if done:
        outline = weave.outline(done)
        line = _edge(outline, axis, side=-1.0) + _edge(outline, axis, side=1.0)
        yield element("path", d=line, **skin.look("done"))


def _edge(outline: Sequence[Point], axis: float, *, side: float, backwards: bool = False) -> str:
    """Write one edge of a thread; slopes rest flat at both ends, so no week is thicker than its own share."""
    corners = outline[::-1] if backwards else outline
    parts: list[str] = []
    for place, (x, half) in enumerate(corners):
        y = axis + side * half
        if place == 0:
            parts.append(f"{'L' if backwards else 'M'}{number(x)} {number(y)}")
        elif place % 2:
            parts.append(f"H{number(x)}")
        else:
            before = corners[place - 1]
            third = (x - before[0]) / 3.0
            level = axis + side * before[1]
            near, far = number(before[0] + third), number(x - third)
            parts.append(f"C{near} {number(level)} {far} {number(y)} {number(x)} {number(y)}")
    return "".join(parts)


def _ribbon(outline: Sequence[Point], axis: float) -> str:
    return _edge(outline, axis, side=-1.0) + _edge(outline, axis, side=1.0, backwards=True) + "Z"


def _pins(weave: Geometry, skin: Skin) -> Iterator[Element]:
    for placed in weave.pins():
        peak = "-peak" if placed.pin.peak else ""
        x, tip, foot = placed.x, placed.y - 9.0, placed.y
        shape = f"M{number(x)} {number(tip)}L{number(x + 5.0)} {number(foot)}H{number(x - 5.0)}Z"
        yield element("path", element("title", placed.pin.label), d=shape, **skin.look(f"pin{peak}"))
        if placed.label is not None:
            yield _text(placed.label, skin, f"event{peak}")


def _touch(weave: Geometry, skin: Skin) -> Iterator[Element]:
    """Lay a clear column over each week for a page to listen to."""
    if skin.name == "paper":
        return
    top = weave.measure.weeks_at - 14.0
    for place, week in enumerate(weave.data.weeks):
        note = f", {week.note}" if week.note else ""
        yield element(
            "rect",
            element("title", f"Week {week.number}{note}"),
            x=weave.edge(place),
            y=top,
            width=weave.column,
            height=weave.lanes_bottom - top,
            data_week=str(week.number),
            fill_opacity="0",
            class_=skin.classed("week-area"),
        )
