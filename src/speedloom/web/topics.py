"""The topics of the site: a folder of `pages` each, with its urls and templates."""

from __future__ import annotations

TOPICS = (
    "signing_in",
    "today",
    "programme",
    "review",
    "proposals",
    "replan",
    "retest",
    "session",
    "links",
    "new_programme",
    "squad",
    "athlete",
    "restrictions",
    "mine",
    "tests",
    "calendar",
    "places",
    "exercises",
    "rules",
    "people",
    "data",
    "api",
)
"""In the order in which their addresses are looked through; a new page is one more word here."""
