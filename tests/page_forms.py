"""The forms of a page as a browser would send them: what stands in their fields, to be changed by a test."""

from __future__ import annotations

from html.parser import HTMLParser


class Form(dict[str, list[str]]):
    """One form's fields with what stands in them, and where it is sent to."""

    action: str = ""
    method: str = "get"

    def filled(self, **typed: str) -> dict[str, list[str] | str]:
        """Give what is sent when something else is typed into some fields."""
        return {**self, **typed}


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self._form: Form | None = None
        self._select, self._text = "", ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._form = Form()
            self._form.action, self._form.method = held.get("action", ""), held.get("method", "get")
            self.forms.append(self._form)
        elif self._form is not None:
            self._field(self._form, tag, held)

    def _field(self, form: Form, tag: str, held: dict[str, str]) -> None:
        name, value = held.get("name", ""), held.get("value", "")
        if tag == "input" and name and _is_sent(held):
            form.setdefault(name, []).append(value)
        elif tag == "select":
            self._select = name
        elif tag == "option" and self._select and ("selected" in held or self._select not in form):
            form[self._select] = [value]
        elif tag == "textarea":
            self._text = name
            form[name] = [""]

    def handle_data(self, data: str) -> None:
        if self._text and self._form is not None:
            self._form[self._text][0] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._form = None
        elif tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._text = ""


def _is_sent(held: dict[str, str]) -> bool:
    kind = held.get("type", "")
    return kind not in {"submit", "button", "file"} and (
        kind not in {"checkbox", "radio"} or "checked" in held
    )


def forms(page: str) -> list[Form]:
    """Read the forms of a page, in their order."""
    reader = _Reader()
    reader.feed(page)
    return reader.forms


def form_with(page: str, field: str) -> Form:
    """Give the first form of a page that has a field."""
    found = next((form for form in forms(page) if field in form), None)
    assert found is not None, f"no form with {field}"
    return found
