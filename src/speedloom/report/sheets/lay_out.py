"""What is laid out before a session: loads and plates by athlete, and who shares which sled."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from speedloom.report.sheets.plates import plates_text
from speedloom.report.sheets.session_columns import ColumnWords
from speedloom.report.sheets.squad import SquadSession
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Kit
from speedloom.training.programme import Programme
from speedloom.wording.line_words import kit_name
from speedloom.wording.names import exercise_name
from speedloom.wording.units import METRIC, Units, mass

SHARED = "sled"
UNSAID = "loads stand on each athlete's own sheet"


@dataclass(frozen=True)
class KitWords:
    """What is laid out for one column of the sheet."""

    column: int
    text: str


@dataclass(frozen=True)
class _Load:
    """A load and who moves it."""

    load_kg: float
    owner: str


def kit_words(
    programme: Programme,
    session: SquadSession,
    columns: Sequence[ColumnWords],
    *,
    catalogue: Catalogue,
    units: Units = METRIC,
    kilograms: bool = True,
) -> tuple[KitWords, ...]:
    """List the kit to lay out beside the column it is for; loads rise, so that plates are mostly added.

    Without kilograms only the kit is named: who moves how much stands on each athlete's own sheet.
    """
    content = programme.brief.content
    kits = {kit.ref: kit for kit in content.kit} if content else {}
    used = dict.fromkeys(
        (line.kit or "", line.exercise) for one in session.present for line in one.work if line.kit in kits
    )
    numbers = {ref: column.number for column in columns for ref in column.exercises}
    return tuple(
        KitWords(
            column=numbers.get(exercise, 1),
            text=_told(
                kits[ref],
                exercise_name(exercise, catalogue=catalogue),
                sorted(_loads(session, ref, exercise), key=lambda one: one.load_kg),
                units=units,
                kilograms=kilograms,
            ),
        )
        for ref, exercise in used
    )


def _loads(session: SquadSession, ref: str, exercise: str) -> Iterator[_Load]:
    for one in session.present:
        for line in one.work:
            if (line.kit, line.exercise) == (ref, exercise) and line.load_kg:
                yield _Load(line.load_kg, one.name.split()[0])


def _told(kit: Kit, name: str, loads: Sequence[_Load], *, units: Units, kilograms: bool) -> str:
    head = f"{name} ({kit_name(kit, units=units)}"
    if not loads:
        return f"{head}): no load."
    if not kilograms:
        return f"{head}): {UNSAID}."
    owners = dict.fromkeys(one.owner for one in loads)
    if kit.kind != SHARED or kit.count < 2 or len(owners) <= kit.count:  # noqa: PLR2004 (several, not one)
        return f"{head}): {_stations(loads, kit, units=units)}."
    groups = (
        f"Sled {number}: {_stations(group, kit, units=units)}"
        for number, group in enumerate(_shared(loads, kit.count), start=1)
    )
    return f"{head}; on each sled one run each in turn, so that plates change least): {'. '.join(groups)}."


def _shared(loads: Sequence[_Load], count: int) -> list[list[_Load]]:
    """Split loads in their order into as many groups as there are sleds, nearly equal in size."""
    least, more = divmod(len(loads), count)
    sizes = [least + (place < more) for place in range(count)]
    return [list(loads[sum(sizes[:place]) : sum(sizes[: place + 1])]) for place in range(count)]


def _stations(loads: Sequence[_Load], kit: Kit, *, units: Units) -> str:
    owners: dict[float, list[str]] = {}
    for one in loads:
        owners.setdefault(one.load_kg, []).append(one.owner)
    return "; ".join(_station(value, owners[value], kit, units=units) for value in owners)


def _station(value: float, owners: Sequence[str], kit: Kit, *, units: Units) -> str:
    plates = plates_text(value, kit, units=units)
    return f"{mass(value, units=units)}{f' [{plates}]' if plates else ''} {', '.join(dict.fromkeys(owners))}"
