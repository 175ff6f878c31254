"""A programme as CSV: one row a line, the programme's own names as headers, in the units a coach reads."""

from __future__ import annotations

import csv
from io import StringIO

from speedloom.exchange.formula_guard import guarded
from speedloom.exchange.line_columns import Value, headers, line_rows
from speedloom.training.programme import Programme
from speedloom.wording.cautions import ALWAYS, CARE
from speedloom.wording.units import METRIC, Units


def lines_csv(
    programme: Programme, *, athlete: str | None = None, week: int | None = None, units: Units = METRIC
) -> bytes:
    """Write every line; cautions stand below as comments, which `speedloom check` passes over."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(headers(units))
    for row in line_rows(programme, athlete=athlete, week=week, units=units):
        writer.writerow([_text(value) for value in row])
    out.writelines(f"# {text}\r\n" for text in (_stamp(programme), *ALWAYS, CARE))
    # The mark at the start tells spreadsheets that names are UTF-8.
    return out.getvalue().encode("utf-8-sig")


def _stamp(programme: Programme) -> str:
    return f"Programme {programme.id}, revision {programme.revision.number}"


def _text(value: Value) -> str | float:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return value
    return "" if value is None else guarded(" ".join(str(value).split()))
