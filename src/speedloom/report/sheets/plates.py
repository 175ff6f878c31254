"""Which plates make a load, and in which order loads follow each other so that few plates change."""

from __future__ import annotations

from speedloom.training.kit import Kit
from speedloom.wording.units import METRIC, Units, mass_number

_GRAMS = 1000
PAIRED = frozenset({"barbell", "trap_bar"})


def plates_on(load_kg: float, kit: Kit) -> tuple[tuple[float, int], ...] | None:
    """Give the fewest plates [mass, pieces] that make a load [kg] on a kit, or None where none do.

    >>> sled = Kit(ref="s", kind="sled", place="hall", empty_kg=12.0, plates_kg=((10.0, 2), (2.5, 2)))
    >>> plates_on(34.5, sled)
    ((10.0, 2), (2.5, 1))
    """
    step = 2 if kit.kind in PAIRED else 1
    rest = round((load_kg - (kit.empty_kg or 0.0)) * _GRAMS)
    ways: dict[int, tuple[int, ...]] = {0: ()}
    for mass, pieces in kit.plates_kg:
        grown: dict[int, tuple[int, ...]] = {}
        for total, counts in ways.items():
            for count in range(0, pieces + 1, step):
                reached = total + count * round(mass * _GRAMS)
                way = (*counts, count)
                if reached <= rest and (reached not in grown or sum(way) < sum(grown[reached])):
                    grown[reached] = way
        ways = grown
    if rest not in ways:
        return None
    pairs = zip(kit.plates_kg, ways[rest], strict=True)
    return tuple((mass, count) for (mass, _), count in pairs if count)


def plates_text(load_kg: float, kit: Kit, *, units: Units = METRIC) -> str:
    """Write what is put on, for a bar on each side, in the units of the masses beside it.

    >>> bar = Kit(ref="b", kind="barbell", place="gym", empty_kg=20.0, plates_kg=((20.0, 4), (2.5, 2)))
    >>> plates_text(65.0, bar)
    '20 + 2.5 each side'
    """
    plates = plates_on(load_kg, kit)
    if plates is None:
        return ""
    paired = kit.kind in PAIRED
    ends = 2 if paired else 1
    pieces = [
        mass_number(mass, units=units)
        for mass, count in sorted(plates, reverse=True)
        for _ in range(count // ends)
    ]
    if not pieces:
        return "empty bar" if paired else "empty"
    return " + ".join(pieces) + (" each side" if paired else "")
