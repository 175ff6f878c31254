"""The colours of pictures; methods are told apart by label and place first, by hue second."""

from __future__ import annotations

from collections.abc import Mapping

INK = "#1f2630"
SOFT = "#5b6470"
LINE = "#ddd6c8"
GROUND = "#ffffff"
ACCENT = "#0b6e6e"
STOP = "#8a2f4d"
BAND = "#efeae0"
NOW = "#e3f0ee"
HUES: Mapping[str, str] = {
    "sprint": "#0b6e6e",
    "resisted": "#3f7f3a",
    "plyometric": "#b8860b",
    "power": "#b4532a",
    "maximal": "#8a2f4d",
    "general": "#5b6470",
}
PALEST, DEEPEST = 0.16, 0.58
"""How much of the hue is in a thread at specificity 0 and 1: ink on it stays readable (WCAG 2.2 AA)."""


def depth(specificity: float) -> float:
    """Give the share of the hue in a thread of some specificity.

    >>> round(depth(0.5), 2)
    0.37
    """
    return PALEST + (DEEPEST - PALEST) * min(max(specificity, 0.0), 1.0)


def mixed(colour: str, share: float, *, ground: str = GROUND) -> str:
    """Mix a colour into the ground.

    >>> mixed("#000000", 0.5)
    '#808080'
    """
    pairs = zip(_channels(colour), _channels(ground), strict=True)
    return "#" + "".join(f"{round(share * over + (1.0 - share) * under):02x}" for over, under in pairs)


def luminance(colour: str) -> float:
    """Give the relative luminance of a colour, 0 to 1 (WCAG 2.2, "relative luminance")."""
    linear = [_linear(channel / 255.0) for channel in _channels(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of two colours, 1 to 21 (WCAG 2.2, "contrast ratio").

    >>> round(contrast("#000000", "#ffffff"))
    21
    """
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _channels(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[place : place + 2], 16) for place in (1, 3, 5))


def _linear(channel: float) -> float:
    low_end = 0.04045
    return channel / 12.92 if channel <= low_end else ((channel + 0.055) / 1.055) ** 2.4
