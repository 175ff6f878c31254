"""Who writes, when and in which form: makes entries; the same form sent twice makes the same entries."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from speedloom.exchange.filled_weeks import clock_of
from speedloom.report.sheets.squad import Attendance
from speedloom.training.log import LogEntry
from speedloom.training.programme import Prescription
from speedloom.workflows.done_as_written import named_id

_SPACE = "f3a1c5d0-0a4e-5d3b-9f55-7d0c6f1b2a44"
_NO_CLOCK: Mapping[str, None] = {"timing": None, "clock": None, "behind_m": None}


@dataclass(frozen=True)
class Pen:
    """The person, the moment, the revision that was trained by, and the word that tells forms apart."""

    by: str
    at: datetime
    revision: int
    nonce: str
    on: date | None = None
    """The day on which it was trained, where that is not the planned one."""

    def day(self, one: Attendance) -> date:
        """Give the day that is written down."""
        return self.on or one.session.date

    def of_line(
        self,
        one: Attendance,
        line: Prescription,
        results: Iterable[Mapping[str, Any]] = (),
        **said: object,
    ) -> LogEntry:
        """Write about one line of one athlete."""
        those = list(results)
        timed = any(result.get("time_s") is not None for result in those)
        return self._entry(
            one,
            {
                "line": line.ref,
                "exercise": line.exercise,
                "surface": line.surface,
                "results": those,
                **(clock_of(line) if timed else _NO_CLOCK),
                **said,
            },
        )

    def of_session(self, one: Attendance, **said: object) -> LogEntry:
        """Write about one athlete's session as a whole."""
        return self._entry(
            one, {"line": None, "exercise": None, "surface": None, "results": [], **_NO_CLOCK, **said}
        )

    def outside(self, one: Attendance, exercise: str, **said: object) -> LogEntry:
        """Write about an exercise that is not in the programme."""
        content = {"session": None, "line": None, "exercise": exercise, "status": "extra"}
        return self.of_session(one, **content, **said)

    def instead(self, old: LogEntry, results: Iterable[Mapping[str, Any]], **said: object) -> LogEntry:
        """Write a correction that replaces an entry."""
        content = old.model_dump(mode="json") | {"mark": None, "replaces": old.id}
        return self._made(content | {"results": list(results)} | said)

    def _entry(self, one: Attendance, said: Mapping[str, Any]) -> LogEntry:
        plain = {
            "athlete": one.athlete,
            "session": one.session.ref,
            "date": self.day(one).isoformat(),
            "replaces": None,
            "status": "done",
            "reason": None,
            "effort": None,
            "minutes": None,
            "note": "",
        }
        return self._made(plain | dict(said))

    def _made(self, content: dict[str, Any]) -> LogEntry:
        content |= {"by": self.by, "revision": self.revision}
        name = json.dumps(
            [self.nonce, {key: content[key] for key in sorted(content) if key not in {"at", "id"}}]
        )
        made = {"id": named_id(_SPACE, name), "at": self.at.isoformat()}
        return LogEntry.model_validate_json(json.dumps(content | made))
