"""What is typed after `--absent` and `--except`, as names and words."""

from __future__ import annotations

from collections.abc import Iterable

from speedloom.cli._answer import refuse


def absent(texts: Iterable[str], *, reasons: Iterable[str]) -> dict[str, str | None]:
    """Read `A` or `A=reason`, each."""
    found: dict[str, str | None] = {}
    for text in texts:
        athlete, sign, reason = text.partition("=")
        if sign and reason not in reasons:
            refuse([f"--absent: expected {athlete}=REASON with one of {', '.join(reasons)}, got {text}."])
        found[athlete] = reason or None
    return found


def exceptions(
    texts: Iterable[str], *, statuses: Iterable[str], reasons: Iterable[str]
) -> dict[str, tuple[str, str | None]]:
    """Read `LINE=STATUS` or `LINE=STATUS/REASON`, each."""
    found: dict[str, tuple[str, str | None]] = {}
    for text in texts:
        line, _, words = text.partition("=")
        status, slash, reason = words.partition("/")
        if status not in statuses or (slash and reason not in reasons):
            expected = f"LINE=STATUS or LINE=STATUS/REASON, of {', '.join(statuses)} and {', '.join(reasons)}"
            refuse([f"--except: expected {expected}, got {text}."])
        found[line] = (status, reason or None)
    return found
