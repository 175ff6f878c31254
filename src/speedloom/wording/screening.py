"""What was asked before hard work, in words for those who work with the athlete."""

from __future__ import annotations

from typing import Literal

from speedloom.training.athlete import Screening
from speedloom.wording.dates import full_date

Role = Literal["owner", "coach", "assistant", "clinician", "athlete", "viewer"]
NO_ONE_CLEARS = (
    "Nobody of this squad is a clinician now; the owner can invite one on the page of the squad's people."
)


def asked_text(asked: Screening, *, by: str, role: Role) -> str:
    """Say when and by whom somebody was asked.

    >>> from datetime import date
    >>> asked_text(Screening(on=date(2026, 1, 9), pain=False, cleared=True), by="Dr Sam", role="clinician")
    'Asked on 9 January 2026 by Dr Sam (clinician).'
    """
    return f"Asked on {full_date(asked.on)} by {by} ({role})."


def held_text(asked: Screening, *, by: str, name: str, clinician: bool, clinician_here: bool) -> str:
    """Say that a clinician has not cleared somebody, and who may change that.

    Args:
        asked: the clinician's answers.
        by: the clinician.
        name: the athlete.
        clinician: whether who reads this is one.
        clinician_here: whether the squad has one.
    """
    said = f"{by} (clinician) wrote on {full_date(asked.on)} that hard work is not cleared for {name}. "
    if clinician:
        return f"{said}No programme is made until you, or another clinician, write that it is."
    ends = "" if clinician_here else f" {NO_ONE_CLEARS}"
    return (
        f"{said}Thank you for asking all the same: what hurts, and the last hard sprint, are kept. "
        f"The clearance waits for a clinician, and no programme is made until then.{ends}"
    )


def not_planned_text(asked: Screening, *, by: str) -> str:
    """Say beside a name why somebody cannot be cleared here."""
    return (
        f"{by} (clinician) wrote on {full_date(asked.on)} that hard work is not cleared. A clinician changes "
        "that on the page of restrictions; leave this athlete out to plan the others."
    )
