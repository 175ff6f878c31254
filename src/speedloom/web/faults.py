"""What stands against a form that comes back: one summary at the top of the page, a link to each field."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

from django import template
from django.forms import BaseForm
from django.forms.boundfield import BoundField
from django.template import Context

register = template.Library()


@dataclass(frozen=True)
class Stated:
    """One thing that is wrong: where, what, and the id of the field it is said at."""

    label: str
    text: str
    anchor: str = ""


@register.inclusion_tag("parts/faults.html", takes_context=True)
def faults(context: Context) -> dict[str, object]:
    """Gather what is wrong with every form of the page; fields need not say again what belongs to none.

    Forms and lists of forms are found in what the view gave; a view adds to them with `stated`, a list of
    what stands against fields that belong to no form, and `faults`, a list of sentences.
    """
    given: dict[Any, Any] = context.flatten()
    stated: Iterable[Stated] = given.get("stated") or ()
    lines = list(dict.fromkeys(chain(_sentences(given), stated, _of_forms(given.values()))))
    if lines:
        context.dicts[0]["faults_said"] = True
    return {"lines": lines}


def _sentences(given: dict[str, Any]) -> Iterator[Stated]:
    said = given.get("faults")
    if isinstance(said, list | tuple):
        yield from (Stated("", str(one)) for one in said if isinstance(one, str))


def _of_forms(values: Iterable[object]) -> Iterator[Stated]:
    seen: set[int] = set()
    for value in values:
        rows = _forms(value)
        for place, form in enumerate(rows, 1):
            if id(form) not in seen and form.is_bound:
                seen.add(id(form))
                yield from _of_form(form, f" {place}" if rows is value else "")


def _forms(value: object) -> Sequence[BaseForm]:
    if isinstance(value, BaseForm):
        return [value]
    if isinstance(value, list | tuple) and value and all(isinstance(one, BaseForm) for one in value):
        return value
    return []


def _of_form(form: BaseForm, row: str) -> Iterator[Stated]:
    for name, texts in form.errors.items():
        if name not in form.fields:
            yield from (Stated("", str(text)) for text in texts)
            continue
        field = form[name]
        yield from (Stated(f"{field.label}{row}", str(text), _anchor(field)) for text in texts)


def _anchor(field: BoundField) -> str:
    """Give the id of the first box of a field; one that is not shown has none."""
    if field.is_hidden:
        return ""
    return field.id_for_label or f"{field.auto_id}_0"
