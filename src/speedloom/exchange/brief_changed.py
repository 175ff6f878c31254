"""A brief that was changed on a screen: looked at as a whole, as one read from a file is."""

from __future__ import annotations

import json

from speedloom.exchange.brief_content import Content
from speedloom.exchange.brief_dates import check_dates
from speedloom.exchange.brief_references import check_references
from speedloom.exchange.fault import Fault
from speedloom.training.brief import Brief
from speedloom.training.document import canonical
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook


def new_faults(before: Brief, changed: Brief) -> tuple[Fault, ...]:
    """Give what is wrong with a changed brief that was not wrong before the change."""
    known = {_said(fault) for fault in _faults(before)}
    return tuple(fault for fault in _faults(changed) if _said(fault) not in known)


def _faults(brief: Brief) -> list[Fault]:
    content = Content("", json.loads(canonical(brief)))
    check_references(content, catalogue=load_catalogue(), rulebook=load_rulebook())
    check_dates(content)
    return content.faults


def _said(fault: Fault) -> tuple[str, ...]:
    return (fault.column, fault.what_came, fault.expected)
