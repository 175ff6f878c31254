"""A document's validation errors, in words and with their places."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from speedloom.exchange.fault import Fault, did_you_mean, listed, shown

Path = tuple[int | str, ...]
RowOf = Callable[[Path], int | None]

_UNITS = {
    "m": "m",
    "s": "s",
    "kg": "kg",
    "mps": "m/s",
    "c": "°C",
    "npkg": "N/kg",
    "wpkg": "W/kg",
    "minutes": "min",
}
_FOREIGN = {
    "lb": "1 lb is 0.4536 kg",
    "lbs": "1 lb is 0.4536 kg",
    "cm": "100 cm are 1 m",
    "yd": "1 yd is 0.9144 m",
    "ft": "1 ft is 0.3048 m",
    "in": "1 in is 0.0254 m",
    "ms": "1000 ms are 1 s",
    "kmh": "3.6 km/h are 1 m/s",
    "min": "units stand in the key",
}
_TYPES = {
    "string_type": "text in quotes",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "dict_type": "a table",
    "model_type": "a table",
    "date_parsing": "a date, YYYY-MM-DD",
    "date_type": "a date, YYYY-MM-DD",
    "date_from_datetime_parsing": "a date, YYYY-MM-DD",
    "date_from_datetime_inexact": "a date, YYYY-MM-DD",
    "time_parsing": "a time of day, HH:MM",
    "time_type": "a time of day, HH:MM",
    "datetime_parsing": "an instant with offset (RFC 3339)",
    "datetime_type": "an instant with offset (RFC 3339)",
    "timezone_aware": "an instant with offset (RFC 3339)",
}
_BOUNDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}


def shown_path(path: Path, content: object = None) -> str:
    """Write a place in a document, things with a ref by that ref.

    >>> shown_path(("slots", 0, "place"), {"slots": [{"ref": "mon"}]})
    'slots.mon.place'
    """
    parts: list[str] = []
    for key in path:
        content = _inside(content, key)
        ref = content.get("ref") if isinstance(content, Mapping) and isinstance(key, int) else None
        parts.append(ref if isinstance(ref, str) and ref else str(key + 1 if isinstance(key, int) else key))
    return ".".join(parts)


def _inside(content: object, key: int | str) -> object:
    if isinstance(content, Mapping):
        return content.get(key)
    if isinstance(content, list) and isinstance(key, int) and key < len(content):
        return content[key]
    return None


def faults_of(
    error: ValidationError,
    *,
    model: type[BaseModel],
    file: str,
    content: object = None,
    row_of: RowOf = lambda _: None,
) -> list[Fault]:
    """Turn validation errors into faults; `row_of` finds the line of a path."""
    faults = []
    for one in error.errors(include_url=False):
        if _told_elsewhere(one):
            continue
        path = tuple(part for part in one["loc"] if part != "[key]")
        expected, todo = _words(one, known_keys(model, path[:-1]))
        came = "" if one["type"] in {"missing", "extra_forbidden"} else shown(one["input"])
        came = came if one["type"] != "value_error" else _came(one["ctx"]["error"])
        if one["type"] == "extra_forbidden":
            came = f"an unknown key {shown(path[-1])}"
        faults.append(Fault(file, row_of(path), shown_path(path, content), came, expected, todo))
    return faults


def _told_elsewhere(one: Mapping[str, Any]) -> bool:
    """Say whether a list only counts as too short because its entries are faulty."""
    return bool(one["type"] == "too_short" and len(one["input"]) >= one["ctx"].get("min_length", 1))


def known_keys(model: type[BaseModel], path: Path) -> tuple[str, ...]:
    """List the keys a document may have at a place."""
    kinds: list[Any] = [model]
    for key in path:
        kinds = [inner for kind in kinds for inner in _step(kind, key)]
    models = [one for kind in kinds for one in _models(kind)]
    return tuple(field.alias or name for one in models for name, field in one.model_fields.items())


def _step(kind: object, key: int | str) -> Iterator[Any]:
    for model in _models(kind):
        for name, field in model.model_fields.items():
            if key in (name, field.alias):
                yield field.annotation
    for part in _parts(kind):
        if get_origin(part) in (tuple, dict):
            yield from (inner for inner in get_args(part) if inner is not Ellipsis)


def _parts(kind: object) -> Iterator[Any]:
    if get_origin(kind) is Annotated:
        yield from _parts(get_args(kind)[0])
    elif get_origin(kind) in (Union, UnionType):
        for part in get_args(kind):
            yield from _parts(part)
    else:
        yield kind


def _models(kind: object) -> Iterator[type[BaseModel]]:
    for part in _parts(kind):
        if isinstance(part, type) and issubclass(part, BaseModel):
            yield part


def _words(one: Mapping[str, Any], keys: tuple[str, ...]) -> tuple[str, str]:
    """Say what was expected, and what to do."""
    kind, key = str(one["type"]), next((part for part in one["loc"][::-1] if isinstance(part, str)), "")
    if kind == "extra_forbidden":
        return "a known key", _unknown_key(key, keys)
    if kind == "missing":
        return "a value", f"add {key}{_shape_of(key)}"
    if kind == "literal_error":
        words = re.findall(r"'([^']*)'", one["ctx"]["expected"])
        near = did_you_mean(one["input"], words, otherwise="choose one of them")
        return f"one of {listed(words, most=20)}", near
    if kind == "string_pattern_mismatch":
        return "a ref of a–z, 0–9, _ and - (1 to 40 signs)", as_ref(one["input"])
    if kind == "value_error":
        said = str(one["ctx"]["error"]).removeprefix("expected ")
        return said.rpartition(", got ")[0] or said, ""
    return _measure(one, kind, key)


def _measure(one: Mapping[str, Any], kind: str, key: str) -> tuple[str, str]:
    bounds = [name for name in _BOUNDS if name in one.get("ctx", {})]
    if bounds:
        unit = unit_of(key)
        limit = f"{_BOUNDS[bounds[0]]} {one['ctx'][bounds[0]]:g}{f' {unit}' if unit else ''}"
        return f"{key or 'a value'} of {limit}", hint(key, one["input"], one["ctx"][bounds[0]])
    if kind in {"too_short", "string_too_short"}:
        return f"at least {one['ctx'].get('min_length', 1)} entries or signs", ""
    expected = _TYPES.get(kind, str(one["msg"]).removeprefix("Input should be "))
    quoted = isinstance(one["input"], str) and expected in {"a number", "a whole number", "true or false"}
    return expected, "leave the quotes out" if quoted else ""


def unit_of(key: str) -> str:
    """Give the unit a key ends with.

    >>> unit_of("mass_kg")
    'kg'
    """
    return _UNITS.get(key.rpartition("_")[2], "")


def hint(key: str, value: object, limit: float) -> str:
    """Guess what went wrong where a number lies beyond a limit.

    >>> hint("height_m", 169, 2.3)
    'in metres: 169 cm is 1.69'
    """
    if not isinstance(value, int | float):
        return ""
    if limit == 1 and 1 < value <= 100:  # noqa: PLR2004 — a percentage where a fraction is meant
        return f"shares are fractions: {value:g} % is {value / 100:g}"
    if key == "height_m" and value > limit:
        return f"in metres: {value:g} cm is {value / 100:g}"
    return "check the unit" if unit_of(key) else ""


def _unknown_key(key: str, keys: tuple[str, ...]) -> str:
    stem, _, unit = key.lower().rpartition("_")
    same = [known for known in keys if known.rpartition("_")[0] == stem]
    if unit in _FOREIGN and same:
        return f'did you mean "{same[0]}"? {_FOREIGN[unit]}'
    return did_you_mean(key, keys, otherwise=f"known here: {listed(sorted(keys), most=30)}")


def _shape_of(key: str) -> str:
    unit = unit_of(key)
    return f", in {unit}" if unit else ""


def as_ref(value: object) -> str:
    """Offer a ref in place of what was typed.

    >>> as_ref("Mila Example")
    'write "mila_example"'
    """
    ref = re.sub(r"[^a-z0-9_-]+", "_", str(value).strip().lower()).strip("_")[:40]
    return f'write "{ref}"' if ref else "choose a short name"


def _came(error: object) -> str:
    return str(error).rpartition(", got ")[2] if ", got " in str(error) else ""
