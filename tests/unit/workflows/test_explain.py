"""The walk over the basis: inputs before results, refusals in words."""

from __future__ import annotations

import re

import pytest

from small_programme import document, small_programme
from speedloom.errors import UnknownNumberError
from speedloom.workflows.explain import explain, explain_all


def test_inputs_stand_before_results_and_the_number_last() -> None:
    explanation = explain(small_programme(), "mila-203.load_kg")
    order = [step.id for step in explanation.steps]
    assert order[-1] == "b6"
    assert sorted(order) == ["b1", "b2", "b3", "b4", "b5", "b6"]
    for step in explanation.steps:
        inputs = [link for link in step.node.inputs.values() if link in order]
        assert all(order.index(link) < order.index(step.id) for link in inputs)


def test_the_rules_are_told_before_the_measurement() -> None:
    order = [step.id for step in explain(small_programme(), "mila-203.load_kg").steps]
    assert order.index("b4") < order.index("b1")


def test_the_json_is_that_of_data() -> None:
    value = explain(small_programme(), "mila-203.load_kg").to_json()
    assert list(value) == ["ref", "value", "unit", "steps"]
    assert (value["ref"], value["value"], value["unit"]) == ("mila-203.load_kg", 37.5, "kg")
    assert value["steps"][-1]["id"] == "b6"
    assert {
        "id",
        "quantity",
        "value",
        "unit",
        "low",
        "high",
        "by",
        "inputs",
        "source",
        "mark",
        "reason",
    } == set(value["steps"][0])


def test_weeks_have_an_address_of_their_own() -> None:
    assert explain(small_programme(), "mila-w2.specificity").value == 0.25
    assert explain(small_programme(), "mila-w2.volumes.resisted_sprint").value == 40


def test_a_reference_alone_gives_every_number() -> None:
    refs = [one.ref for one in explain_all(small_programme(), "mila-w2")]
    assert refs == ["mila-w2.specificity", "mila-w2.volumes.resisted_sprint"]
    assert explain_all(small_programme(), "mila-201") == ()


@pytest.mark.parametrize(
    ("ref", "said"),
    [
        ("mila-9999.load_kg", "got mila-9999"),
        ("mila_203.load_kg", "did you mean mila-203?"),
        ("mila-203.weight", "got weight"),
        ("mila-203.", "got none"),
        ("mila-w99.specificity", "got mila-w99"),
        ("", "got "),
    ],
)
def test_what_is_not_there_is_said(ref: str, said: str) -> None:
    with pytest.raises(UnknownNumberError, match=re.escape(said)):
        explain(small_programme(), ref)


@pytest.mark.parametrize("node", ["b3", "b4", "b5", "b6"])
def test_a_circle_is_said(node: str) -> None:
    content = document()
    content["basis"][node]["inputs"] = {"load_kg": "b6"}
    with pytest.raises(UnknownNumberError, match="go in a circle"):
        explain(small_programme(content), "mila-203.load_kg")


def test_a_missing_node_is_said() -> None:
    content = document()
    del content["basis"]["b6"]
    with pytest.raises(UnknownNumberError, match="hold the step b6"):
        explain(small_programme(content), "mila-203.load_kg")


def test_a_very_long_chain_is_walked() -> None:
    content = document()
    node = content["basis"]["b3"]
    chain = {
        f"c{index}": {**node, "by": "total", "inputs": {"value": f"c{index + 1}"}} for index in range(5000)
    }
    content["basis"] |= chain | {"c5000": node}
    content["basis"]["b6"]["inputs"] = {"load_kg": "c0"}
    assert len(explain(small_programme(content), "mila-203.load_kg").steps) == 5002
