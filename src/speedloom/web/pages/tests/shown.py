"""What the tests page shows of measured rows: a day's runs, jumps and lifts, and the profiles they give."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from speedloom.store.cards import MeasurementCard
from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Jump, Lift, Measurements, Trace, Trial
from speedloom.wording.names import exercise_name, word
from speedloom.wording.units import Units, length, mass, number

Row = Trial | Jump | Lift | Trace
_MODELS: dict[str, type[Row]] = {"trial": Trial, "jump": Jump, "lift": Lift, "trace": Trace}
CM_PER_M = 100.0


@dataclass(frozen=True)
class RowShown:
    """One measured row."""

    id: int
    ref: str
    name: str
    what: str
    cells: tuple[str, ...]
    struck: str | None
    struck_by: str | None


@dataclass(frozen=True)
class TableShown:
    """Rows of one kind with their columns."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[RowShown, ...]


def row_of(card: MeasurementCard) -> Row:
    """Give the measured row of a card."""
    return _MODELS[card.kind].model_validate_json(json.dumps(card.document))


def counting(cards: Iterable[MeasurementCard]) -> Measurements:
    """Give the runs and traces among rows that were not struck out."""
    rows = [row_of(card) for card in cards if card.struck_at is None]
    return Measurements(
        trials=tuple(row for row in rows if isinstance(row, Trial)),
        traces=tuple(row for row in rows if isinstance(row, Trace)),
    )


def tables_shown(
    cards: Sequence[MeasurementCard], *, names: Mapping[str, str], catalogue: Catalogue, units: Units
) -> tuple[TableShown, ...]:
    """Put a day's rows into a table a kind; struck rows stay, crossed out."""
    read = [(card, row_of(card)) for card in cards]
    runs = [(card, row) for card, row in read if isinstance(row, Trial)]
    metres = sorted({split.distance_m for _, row in runs for split in row.splits})
    tables = (
        TableShown(
            "Runs",
            tuple(length(one, units=units) for one in metres),
            tuple(_shown(card, names, _run(row), _splits(row, metres)) for card, row in runs),
        ),
        TableShown(
            "Jumps",
            ("height", "flight", "contact"),
            tuple(
                _shown(card, names, f"{row.trial}", _jump(row)) for card, row in read if isinstance(row, Jump)
            ),
        ),
        TableShown(
            "Lifts",
            ("load", "reps", "in reserve"),
            tuple(
                _shown(card, names, exercise_name(row.exercise, catalogue=catalogue), _lift(row, units))
                for card, row in read
                if isinstance(row, Lift)
            ),
        ),
        TableShown(
            "Speed traces",
            ("points",),
            tuple(
                _shown(card, names, f"{row.trial}, {word(row.timing)}", (str(len(row.points)),))
                for card, row in read
                if isinstance(row, Trace)
            ),
        ),
    )
    return tuple(table for table in tables if table.rows)


def jumps_and_lifts(
    tested: Measurements, *, names: Mapping[str, str], catalogue: Catalogue, units: Units
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Say what a table holds besides runs, by athlete: each jump and each lift as it will be kept."""
    said: dict[str, list[str]] = {}
    for jump in tested.jumps:
        said.setdefault(jump.athlete, []).append("jump " + ", ".join(filter(None, _jump(jump))))
    for lift in tested.lifts:
        name = exercise_name(lift.exercise, catalogue=catalogue)
        load, reps, left = _lift(lift, units)
        said.setdefault(lift.athlete or "", []).append(f"{name} {load} × {reps}, {left} in reserve")
    return tuple((names.get(ref, ref), tuple(those)) for ref, those in sorted(said.items()))


def _shown(card: MeasurementCard, names: Mapping[str, str], what: str, cells: Iterable[str]) -> RowShown:
    return RowShown(
        card.id, card.athlete, names.get(card.athlete, card.athlete), what, tuple(cells),
        card.struck_reason, card.struck_by,
    )  # fmt: skip


def _run(row: Trial) -> str:
    sled = f"sled {number(row.sled_kg)} kg" if row.sled_kg else ""
    behind = f"{number(row.behind_m)} m behind" if row.clock == "behind" and row.behind_m else ""
    start = word(row.start) if row.start != "standing" else ""
    parts = (str(row.trial), word(row.timing), behind, start, word(row.surface or ""), sled)
    return ", ".join(filter(None, parts))


def _splits(row: Trial, metres: Sequence[float]) -> tuple[str, ...]:
    times = {split.distance_m: f"{split.time_s:.2f}" for split in row.splits}
    return tuple(times.get(one, "") for one in metres)


def _jump(row: Jump) -> tuple[str, ...]:
    height = f"{CM_PER_M * row.height_m:.1f} cm" if row.height_m else ""
    flight = f"{row.flight_s:.3f} s" if row.flight_s else ""
    return height, flight, f"{row.contact_s:.3f} s" if row.contact_s else ""


def _lift(row: Lift, units: Units) -> tuple[str, ...]:
    return mass(row.load_kg, units=units), str(row.reps), str(row.rir)
