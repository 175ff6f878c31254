"""Every word of a template goes through gettext: "gettext throughout"."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import speedloom.web

FOLDER = Path(speedloom.web.__file__).parent
TEMPLATES = sorted(FOLDER.rglob("*.html"))
NO_WORDS = {
    "Speedloom": "a name",
    "· Speedloom": "a name",
    "Authorization: Bearer …": "a header of RFC 6750, the same in every language",
    "(). . . doi:": "the punctuation of a source",
    "no-referrer": "a word of the W3C Referrer Policy",
    "speedloom backup saturday.sqlite3": "a command",
    "speedloom restore saturday.sqlite3": "a command",
}
"""What stands in templates as it is, and why."""
SAID = re.compile(
    r"{%\s*blocktranslate.*?endblocktranslate\s*%}|{%\s*comment.*?endcomment\s*%}|{%.*?%}|{{.*?}}|{#.*?#}",
    re.DOTALL,
)
TAGS = re.compile(r"<(script|style)\b.*?</\1>|<[^>]*>", re.DOTALL)
WORDS = re.compile(r"[^\W\d_]{3,}")
SHOWN_ATTRIBUTE = re.compile(r'\b(?:aria-label|placeholder|title|alt)="([^"]*)"')


def untranslated(text: str) -> list[str]:
    """Give the words of a template that no translation would reach."""
    bare = SAID.sub("", text)
    shown = [*TAGS.sub("\n", bare).split("\n"), *SHOWN_ATTRIBUTE.findall(bare)]
    return [words for one in shown if WORDS.search(words := one.strip()) and words not in NO_WORDS]


def test_there_are_templates() -> None:
    assert len(TEMPLATES) > 30


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: str(path.relative_to(FOLDER)))
def test_every_word_of_a_template_can_be_translated(template: Path) -> None:
    assert untranslated(template.read_text(encoding="utf-8")) == []


def test_words_between_tags_and_in_labels_are_found() -> None:
    page = '<p aria-label="Weeks of it">Lift {{ kg }} today</p>{% translate "Rest" %}'
    assert untranslated(page) == ["Lift  today", "Weeks of it"]
