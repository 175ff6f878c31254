"""Speed over distance: the fitted curve with its band, the measured mean speed between gates as bars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.report.charts.widths import ON_SCREEN, text_width
from speedloom.science.mechanics.exponential import distance_at_share, speed_at_distance
from speedloom.training.profile import Estimate, Profile
from speedloom.wording.dates import full_date
from speedloom.wording.units import number as plain

_SHARES = (0.90, 0.95)
_STEPS = 90
_LEFT, _RIGHT, _TOP, _BOTTOM = 44.0, 20.0, 28.0, 34.0


@dataclass(frozen=True)
class GateInterval:
    """Two gates (the start is one) and the mean speed between them [m, m, m/s]."""

    first_m: float
    last_m: float
    speed_mps: float


@dataclass(frozen=True)
class SpeedCurve:
    """What the picture shows: distances [m], speed with its band [m/s], bars, and shares of vmax."""

    title: str
    distance_m: tuple[float, ...]
    speed_mps: tuple[float, ...]
    low_mps: tuple[float, ...]
    high_mps: tuple[float, ...]
    bars: tuple[GateInterval, ...]
    vmax_mps: float
    reached: tuple[tuple[float, float], ...]

    @property
    def summary(self) -> str:
        """Say the picture in words, for those who do not see it."""
        met = ", ".join(f"{plain(100 * share)} % at {far:.0f} m" for share, far in self.reached)
        bars = "; ".join(
            f"{plain(bar.first_m)} to {plain(bar.last_m)} m {bar.speed_mps:.2f} m/s" for bar in self.bars
        )
        return f"Top speed {self.vmax_mps:.2f} m/s; {met}. Mean speed between gates: {bars}."


def curve_from_profile(
    profile: Profile, *, name: str = "", reach_m: float | None = None
) -> SpeedCurve | None:
    """Give the curve of a profile, or None where it holds no top speed.

    The band takes the errors of top speed and of tau as independent. They rise together and pull the speed
    in opposite directions, so the true band is a little narrower, never wider.
    """
    if profile.vmax_mps is None or profile.tau_s is None:
        return None
    vmax, tau = profile.vmax_mps, profile.tau_s
    last = max((split.distance_m for split in profile.splits), default=30.0)
    # Points lie close where the curve is steep.
    distance = np.linspace(0.0, 1.0, _STEPS + 1) ** 2 * (reach_m or max(40.0, last + 5.0))
    speed = speed_at_distance(vmax.value, tau.value, distance)
    below, above = (_spread(vmax, tau, distance, speed, side) for side in ("low", "high"))
    return SpeedCurve(
        title=f"{name or profile.athlete}: speed over distance, {full_date(profile.date)}",
        distance_m=tuple(map(float, distance)),
        speed_mps=tuple(map(float, speed)),
        low_mps=tuple(map(float, np.maximum(speed - below, 0.0))),
        high_mps=tuple(map(float, speed + above)),
        bars=tuple(_bars(profile)),
        vmax_mps=vmax.value,
        reached=tuple((share, float(distance_at_share(vmax.value, tau.value, share))) for share in _SHARES),
    )


def _spread(
    vmax: Estimate, tau: Estimate, distance: NDArray[np.float64], speed: NDArray[np.float64], side: str
) -> NDArray[np.float64]:
    """Add up what the ends of both bands do to the speed, as independent errors [m/s]."""
    low = side == "low"
    by_top = speed_at_distance(vmax.low if low else vmax.high, tau.value, distance) - speed
    by_start = speed_at_distance(vmax.value, tau.high if low else tau.low, distance) - speed
    return np.asarray(np.hypot(by_top, by_start))


def _bars(profile: Profile) -> Iterator[GateInterval]:
    """Give the mean speed between gates, counted from the athlete's start [m]."""
    behind = profile.behind_m or 0.0
    zero = profile.offset_s.value if profile.offset_s and profile.clock != "behind" else 0.0
    before_m, before_s = 0.0, zero
    for split in sorted(profile.splits, key=lambda split: split.distance_m):
        if split.time_s > before_s:
            mean = (split.distance_m - before_m) / (split.time_s - before_s)
            yield GateInterval(before_m + behind, split.distance_m + behind, mean)
        before_m, before_s = split.distance_m, split.time_s


@dataclass(frozen=True)
class _Frame:
    """Where metres and metres per second stand in the picture."""

    curve: SpeedCurve
    stretch: float
    width: float
    height: float

    @cached_property
    def top(self) -> int:
        """The end of the speed axis [m/s]."""
        highest = max((*self.curve.high_mps, *(bar.speed_mps for bar in self.curve.bars)))
        return int(highest) + 1

    def x(self, metres: float) -> float:
        return _LEFT + metres / self.curve.distance_m[-1] * (self.width - _LEFT - _RIGHT)

    def y(self, speed: float) -> float:
        return self.height - _BOTTOM - speed / self.top * (self.height - _TOP - _BOTTOM)


def profile_curve_svg(
    curve: SpeedCurve,
    *,
    skin: SkinName = "paper",
    ident: str = "curve",
    width: float = 640.0,
    height: float = 330.0,
) -> str:
    """Draw the curve; `ident` begins every id of the picture (several may stand on one page)."""
    frame = _Frame(curve, ON_SCREEN if skin == "page" else 1.0, width, height)
    dress = Skin(skin, "curve", ident)
    picture = element(
        "svg",
        element("title", curve.title, id=f"{ident}-title"),
        element("desc", curve.summary, id=f"{ident}-desc"),
        dress.ground(width, height),
        *_axes(frame, dress),
        *_shares(frame, dress),
        element("path", d=_band(frame), **dress.look("band-around")),
        element("path", d=_path(frame, curve.distance_m, curve.speed_mps), **dress.look("line")),
        *_intervals(frame, dress),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role="img",
        aria_labelledby=f"{ident}-title {ident}-desc",
        **({"class_": dress.kind} if skin == "page" else {"width": width, "height": height}),
    )
    return str(picture)


def _axes(frame: _Frame, skin: Skin) -> Iterator[Element]:
    right = number(frame.width - _RIGHT)
    for speed in range(0, frame.top + 1, 2):
        y = frame.y(speed)
        yield element("path", d=f"M{number(_LEFT)} {number(y)}H{right}", **skin.look("grid"))
        yield element("text", str(speed), x=_LEFT - 8.0, y=y + 4.0, text_anchor="end", **skin.look("axis"))
    yield element("text", "m/s", x=_LEFT - 8.0, y=_TOP - 12.0, text_anchor="end", **skin.look("axis"))
    for metres in range(0, int(frame.curve.distance_m[-1]) + 1, 10):
        at = {"x": frame.x(metres), "y": frame.height - _BOTTOM + 18.0}
        yield element("text", f"{metres} m", text_anchor="middle", **at, **skin.look("axis"))


def _shares(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Draw where shares of top speed are reached; words stand low, outside the pair."""
    for (share, far), before in zip(frame.curve.reached, (True, False), strict=True):
        if far > frame.curve.distance_m[-1]:
            continue
        x, y = frame.x(far), frame.y(share * frame.curve.vmax_mps)
        yield element("path", d=f"M{number(x)} {number(y)}V{number(frame.y(0.0))}", **skin.look("share"))
        words = next((text for text in _ways(share, far) if _fits(frame, text, x, before=before)), "")
        side = {"x": x - 6.0, "text_anchor": "end"} if before else {"x": x + 6.0}
        yield element("text", words, y=frame.y(1.0) + 4.0, **side, **skin.look("axis"))


def _ways(share: float, far: float) -> tuple[str, ...]:
    whole = f"{plain(100 * share)} %"
    return (f"{whole} of top speed at {far:.0f} m", f"{whole} at {far:.0f} m", whole)


def _fits(frame: _Frame, text: str, x: float, *, before: bool) -> bool:
    room = (x - frame.x(0.6) if before else frame.width - x) - 8.0
    return text_width(text, size=11.0, stretch=frame.stretch) <= room


def _intervals(frame: _Frame, skin: Skin) -> Iterator[Element]:
    for bar in frame.curve.bars:
        y = number(frame.y(bar.speed_mps))
        line = f"M{number(frame.x(bar.first_m) + 1.0)} {y}H{number(frame.x(bar.last_m) - 1.0)}"
        title = f"{plain(bar.first_m)} to {plain(bar.last_m)} m: {bar.speed_mps:.2f} m/s"
        yield element("path", element("title", title), d=line, **skin.look("interval"))


def _path(frame: _Frame, distance: Sequence[float], speed: Sequence[float]) -> str:
    points = (f"{number(frame.x(x))} {number(frame.y(v))}" for x, v in zip(distance, speed, strict=True))
    return "M" + "L".join(points)


def _band(frame: _Frame) -> str:
    curve = frame.curve
    back = _path(frame, curve.distance_m[::-1], curve.low_mps[::-1]).replace("M", "L", 1)
    return _path(frame, curve.distance_m, curve.high_mps) + back + "Z"
