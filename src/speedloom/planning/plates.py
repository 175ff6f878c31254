"""Which masses a piece of kit can make."""

from __future__ import annotations

from functools import cache

from speedloom.training.kit import Kit

_PAIRED = {"barbell", "trap_bar"}


@cache
def loadable(kit: Kit) -> tuple[float, ...]:
    """Give every mass the kit can make, lightest first [kg]; bars take plates in pairs, at each end alike."""
    if kit.weights_kg:
        return tuple(sorted({mass for mass, _ in kit.weights_kg}))
    pieces = 2 if kit.kind in _PAIRED else 1
    sums = {0}
    for mass, count in kit.plates_kg:
        unit = round(mass * 1000) * pieces
        sums = {total + unit * used for total in sums for used in range(count // pieces + 1)}
    return tuple((round((kit.empty_kg or 0.0) * 1000) + total) / 1000 for total in sorted(sums))


def nearest_loadable(load_kg: float, *, kit: Kit, at_most: float | None = None) -> float:
    """Give the nearest mass the kit can make; a tie goes to the lighter, never above a cap [kg]."""
    usable = [mass for mass in loadable(kit) if at_most is None or mass <= at_most + 1e-9]
    masses = usable or [loadable(kit)[0]]
    return min(masses, key=lambda mass: (round(abs(mass - load_kg), 6), mass))
