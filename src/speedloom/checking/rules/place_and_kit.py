"""X3 to X5, W3: the place has the length and allows the exercise; the kit is there and can make the load."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.line import Work
from speedloom.checking.plates import can_make, loadable_kg
from speedloom.checking.scene import Scene, Visit
from speedloom.training.kit import Kit, Place
from speedloom.training.words import KitKind

_BARS: tuple[KitKind, ...] = ("barbell", "trap_bar")


def place_straight(scene: Scene) -> Iterator[Finding]:
    """Find runs that with their run-out are longer than the straight."""
    for visit, work in scene.lines:
        place = scene.places.get(visit.session.place)
        if place is None or place.straight_m is None or not _needs_straight(work):
            continue
        needed = work.run_m + (place.run_out_m or 0.0)
        if needed > place.straight_m:
            yield scene.breach(
                "place_straight", visit=visit, line=work.line, value=needed, limit=place.straight_m, unit="m"
            )


def _needs_straight(work: Work) -> bool:
    return (work.is_run or work.is_sled) and work.line.path in {None, "straight"}


def place_kind(scene: Scene) -> Iterator[Finding]:
    """Find exercises at a kind of place that does not allow them."""
    for visit, work in scene.lines:
        place = scene.places.get(visit.session.place)
        if place is not None and work.exercise is not None and place.kind not in work.exercise.place:
            allowed = " ".join(work.exercise.place)
            yield scene.breach("place_kind", visit=visit, line=work.line, value=place.kind, limit=allowed)


def kit_present(scene: Scene) -> Iterator[Finding]:
    """Find exercises whose kit is not at the place."""
    for visit, work in scene.lines:
        place = scene.places.get(visit.session.place)
        if place is None:
            continue
        missing = _missing(scene, place, work)
        if missing:
            yield scene.breach("kit_present", visit=visit, line=work.line, value=place.ref, limit=missing)


def _missing(scene: Scene, place: Place, work: Work) -> str:
    if work.line.kit is not None:
        named = scene.kit.get(work.line.kit)
        if named is None or named.place != place.ref:
            return work.line.kit
    there = _kinds_at(scene, place)
    needed = work.exercise.kit if work.exercise else ()
    return next((kind for kind in needed if kind not in there), "")


def _kinds_at(scene: Scene, place: Place) -> set[KitKind]:
    kinds = {kit.kind for kit in scene.kit.values() if kit.place == place.ref}
    if place.kind == "gym":
        # A gym has a pull-up bar and an anchor, and a rack and a bench for each barbell.
        kinds |= {"pull_up_bar", "nordic_anchor"}
        kinds |= {"rack", "bench"} if "barbell" in kinds else set()
    return kinds


def load_possible(scene: Scene) -> Iterator[Finding]:
    """Find loads below the empty bar or sled, or that the pieces there cannot make."""
    for visit, work in scene.lines:
        kit = _bearing(scene, visit, work)
        load = work.line.load_kg
        if kit is None or not load:
            continue
        if kit.empty_kg is not None and load < kit.empty_kg:
            yield scene.breach(
                "load_possible",
                visit=visit,
                line=work.line,
                value=load,
                limit=kit.empty_kg,
                unit="kg",
                kit=kit.ref,
            )
        elif not can_make(kit, load, pieces=_pieces(work)):
            yield scene.breach(
                "load_possible",
                visit=visit,
                line=work.line,
                value=load,
                unit="kg",
                kit=kit.ref,
                **_nearest(kit, load, pieces=_pieces(work)),
            )


def _nearest(kit: Kit, load_kg: float, *, pieces: int) -> dict[str, str]:
    """Give the loads (kg) next to one that cannot be made: the heaviest below it and the lightest above."""
    masses = loadable_kg(kit, pieces=pieces)
    below = max((mass for mass in masses if mass < load_kg), default=None)
    above = min((mass for mass in masses if mass > load_kg), default=None)
    return {name: f"{mass:g}" for name, mass in (("below", below), ("above", above)) if mass is not None}


def _pieces(work: Work) -> int:
    return 2 if work.exercise is not None and work.exercise.load_kind == "dumbbells" else 1


def _bearing(scene: Scene, visit: Visit, work: Work) -> Kit | None:
    """Give the kit that bears the load: the one named, or the only one of its kind at the place."""
    if work.line.kit is not None:
        return scene.kit.get(work.line.kit)
    kind = work.exercise.load_kind if work.exercise else ""
    at_place = [kit for kit in scene.kit.values() if kit.place == visit.session.place and kit.kind == kind]
    return at_place[0] if len(at_place) == 1 else None
