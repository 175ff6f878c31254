"""What the page on the API shows is what the API takes and answers (HOUSE: habit 11)."""

from __future__ import annotations

import json
import re

import pytest
from django.test import RequestFactory

from house import DOCS
from speedloom.exchange.fault import UnusableFileError
from speedloom.training.measurement import Measurements
from speedloom.web.pages.api.shapes import ChangesSent, read
from speedloom.web.pages.api.site import description

TEXT = (DOCS / "how-to" / "use-the-api.md").read_text(encoding="utf-8")
BODIES = re.findall(r"```\n(?:POST (\S+)\n)?(\{.*?\})\n```", TEXT, re.DOTALL)
SHAPES = {"measurements": Measurements, "changes": ChangesSent}


def test_what_is_sent_can_be_read() -> None:
    shown = {where.rpartition("/")[2]: body for where, body in BODIES if where}
    for name, model in SHAPES.items():
        read(RequestFactory().post("/", shown[name], content_type="application/json"), model)
    assert set(shown) == set(SHAPES)


def test_the_fault_it_shows_is_told() -> None:
    (problem,) = json.loads(BODIES[-1][1])["problems"]
    splits = [{"distance_m": 10.0, "time_s": 1.9}]
    trial = {
        "athlete": "mila", "date": "2026-01-08", "trial": 1, "timing": "gates", "clock": "unknown",
        "splits": splits, "splts": splits,
    }  # fmt: skip
    request = RequestFactory().post("/", {"trials": [trial]}, content_type="application/json")
    with pytest.raises(UnusableFileError) as told:
        read(request, Measurements)
    (fault,) = told.value.faults
    assert [f"got {fault.what_came}", fault.column, fault.expected, fault.todo] == list(problem.values())


def test_every_status_is_explained() -> None:
    statuses = {
        status for calls in description()["paths"].values() for call in calls.values()
        for status in call["responses"] if status >= "4"
    }  # fmt: skip
    assert statuses | {"405"} == set(re.findall(r"^\| (\d{3}) \|", TEXT, re.MULTILINE))
