"""Two speed curves of one athlete: first test dashed, last test drawn through, each with its band."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from speedloom.report.charts.profile_curve import SpeedCurve, curve_from_profile
from speedloom.report.charts.skins import Skin, SkinName
from speedloom.report.charts.svg import Element, element, number
from speedloom.training.kept import of_people
from speedloom.training.profile import Profile
from speedloom.wording.dates import full_date

_LEFT, _RIGHT, _TOP, _BOTTOM = 34.0, 16.0, 24.0, 26.0
_KEPT = 256
"""Pictures kept, 14 kB each: a squad's page draws one for everybody [count]."""


@dataclass(frozen=True)
class TwoCurves:
    """What the picture shows: both curves over the same distances, and whose and when in words."""

    title: str
    before: SpeedCurve
    after: SpeedCurve
    before_day: str
    after_day: str

    @property
    def summary(self) -> str:
        """Say the picture in words, for those who do not see it."""
        return (
            f"Top speed {self.before.vmax_mps:.2f} m/s on {self.before_day}, "
            f"{self.after.vmax_mps:.2f} m/s on {self.after_day}; bands: how surely each is known."
        )


def two_curves(before: Profile, after: Profile, *, name: str = "") -> TwoCurves | None:
    """Give both curves over the same distances, or None where one has no top speed."""
    reach = max((split.distance_m + 5.0 for split in (*before.splits, *after.splits)), default=40.0)
    curves = [curve_from_profile(one, name=name, reach_m=reach) for one in (before, after)]
    if curves[0] is None or curves[1] is None:
        return None
    return TwoCurves(
        title=f"{name or before.athlete}: speed over distance, two tests",
        before=curves[0],
        after=curves[1],
        before_day=full_date(before.date),
        after_day=full_date(after.date),
    )


@dataclass(frozen=True)
class _Frame:
    """Where metres and metres per second stand in the picture."""

    curves: TwoCurves
    width: float
    height: float

    @cached_property
    def top(self) -> int:
        return int(max(*self.curves.before.high_mps, *self.curves.after.high_mps)) + 1

    @property
    def reach(self) -> float:
        return self.curves.before.distance_m[-1]

    def x(self, metres: float) -> float:
        return _LEFT + metres / self.reach * (self.width - _LEFT - _RIGHT)

    def y(self, speed: float) -> float:
        return self.height - _BOTTOM - speed / self.top * (self.height - _TOP - _BOTTOM)

    def path(self, distance: Sequence[float], speed: Sequence[float]) -> str:
        points = (f"{number(self.x(x))} {number(self.y(v))}" for x, v in zip(distance, speed, strict=True))
        return "M" + "L".join(points)


@of_people
@lru_cache(maxsize=_KEPT)
def before_after_svg(
    curves: TwoCurves,
    *,
    skin: SkinName = "paper",
    ident: str = "two",
    width: float = 640.0,
    height: float = 300.0,
    dates: bool = True,
) -> str:
    """Draw both curves, with dates where there is room; `ident` begins every id of the picture."""
    frame = _Frame(curves, width, height)
    dress = Skin(skin, "curve", ident)
    picture = element(
        "svg",
        element("title", curves.title, id=f"{ident}-title"),
        element("desc", curves.summary, id=f"{ident}-desc"),
        dress.ground(width, height),
        *_axes(frame, dress),
        *_curve(frame, dress, curves.before, look="-before", band="band-before"),
        *_curve(frame, dress, curves.after, look="", band="band-around"),
        *(_key(frame, dress) if dates else ()),
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
        yield element("text", str(speed), x=_LEFT - 6.0, y=y + 4.0, text_anchor="end", **skin.look("axis"))
    yield element("text", "m/s", x=_LEFT - 6.0, y=_TOP - 10.0, text_anchor="end", **skin.look("axis"))
    for metres in range(0, int(frame.reach) + 1, 10):
        at = {"x": frame.x(metres), "y": frame.height - _BOTTOM + 16.0}
        yield element("text", f"{metres} m", text_anchor="middle", **at, **skin.look("axis"))


def _curve(frame: _Frame, skin: Skin, curve: SpeedCurve, *, look: str, band: str) -> Iterator[Element]:
    back = frame.path(curve.distance_m[::-1], curve.low_mps[::-1]).replace("M", "L", 1)
    around = frame.path(curve.distance_m, curve.high_mps) + back + "Z"
    yield element("path", d=around, **skin.look(band))
    yield element("path", d=frame.path(curve.distance_m, curve.speed_mps), **skin.look(f"line{look}"))


def _key(frame: _Frame, skin: Skin) -> Iterator[Element]:
    """Name both lines low in the picture, where no curve runs."""
    x, rise = frame.width - _RIGHT - 128.0, 15.0
    for place, (look, day) in enumerate(
        (("line-before", frame.curves.before_day), ("line", frame.curves.after_day))
    ):
        y = frame.y(0.0) - 12.0 - rise * (1 - place)
        yield element("path", d=f"M{number(x)} {number(y - 4.0)}H{number(x + 26.0)}", **skin.look(look))
        yield element("text", day, x=x + 32.0, y=y, **skin.look("axis"))
