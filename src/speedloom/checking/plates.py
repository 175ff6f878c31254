"""Which masses a piece of kit can make, by own code: plates (in pairs on a bar) or fixed weights."""

from __future__ import annotations

from functools import lru_cache

from speedloom.training.kit import Kit

_PAIRED = ("barbell", "trap_bar")
_GRAMS = 1000
_HALF_GRAM = 0.0005


@lru_cache(maxsize=256)
def loadable_kg(kit: Kit, *, pieces: int = 1) -> tuple[float, ...]:
    """Give all masses (kg) the kit can make, rising; `pieces` alike are held at once (two dumbbells).

    >>> bar = Kit(ref="bar", kind="barbell", place="gym", empty_kg=20.0, plates_kg=((5.0, 2), (2.5, 5)))
    >>> loadable_kg(bar)
    (20.0, 25.0, 30.0, 35.0, 40.0)
    """
    if kit.weights_kg:
        return tuple(sorted({mass * pieces for mass, count in kit.weights_kg if count >= pieces}))
    if kit.empty_kg is None and not kit.plates_kg:
        return ()
    sums = {round((kit.empty_kg or 0.0) * _GRAMS)}
    for mass, count in kit.plates_kg:
        step, times = _step(kit, mass, count)
        sums = {total + step * number for total in sums for number in range(times + 1)}
    return tuple(total * pieces / _GRAMS for total in sorted(sums))


def _step(kit: Kit, mass: float, count: int) -> tuple[int, int]:
    """Give one plate's grams and how often it can be added; a bar takes them in pairs."""
    if kit.kind in _PAIRED:
        return round(2 * mass * _GRAMS), count // 2
    return round(mass * _GRAMS), count


def can_make(kit: Kit, load_kg: float, *, pieces: int = 1) -> bool:
    """Say whether the kit can make a mass (kg); kit without known masses can make any."""
    masses = loadable_kg(kit, pieces=pieces)
    return not masses or any(abs(mass - load_kg) < _HALF_GRAM for mass in masses)


def nearest_kg(kit: Kit, load_kg: float, *, at_most: float | None = None, pieces: int = 1) -> float | None:
    """Give the nearest mass (kg) the kit can make, a tie to the lighter, none above `at_most`."""
    masses = [
        mass for mass in loadable_kg(kit, pieces=pieces) if at_most is None or mass <= at_most + _HALF_GRAM
    ]
    return min(masses, key=lambda mass: (round(abs(mass - load_kg), 6), mass), default=None)
