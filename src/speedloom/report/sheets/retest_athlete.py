"""The athlete's page of a retest: one page each, plain words, both curves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from speedloom.report.charts.before_after import before_after_svg, two_curves
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.training.exercise import Catalogue
from speedloom.wording.athlete_retest import CURVE_NOTE, OwnRetestWords, own_retest_words
from speedloom.wording.dates import full_date
from speedloom.wording.units import METRIC, Units
from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Retest


@dataclass(frozen=True)
class RetestPeople:
    """Who is who, what the goal is about, and what was written down in between."""

    names: Mapping[str, str]
    goal_m: float | None = None
    done: Mapping[str, DoneBetween] | None = None

    def name(self, ref: str) -> str:
        """Give a name, or the reference."""
        return self.names.get(ref, ref)


@dataclass(frozen=True)
class OwnRetestPage:
    """One athlete's page."""

    words: OwnRetestWords
    curve: str
    curve_words: str
    curve_note: str
    foot: str


@dataclass(frozen=True)
class OwnRetestPages:
    """Several athletes' pages in one document."""

    title: str
    pages: tuple[OwnRetestPage, ...]


def retest_athlete_pdf(
    found: Retest,
    *,
    people: RetestPeople,
    catalogue: Catalogue,
    paper: Paper,
    athletes: tuple[str, ...] | None = None,
    units: Units = METRIC,
) -> bytes:
    """Print a page for each athlete with something to compare, or for some of them."""
    chosen = [ref for ref in found.athletes if athletes is None or ref in athletes]
    pages = tuple(
        _page(found, ref, people=people, catalogue=catalogue, paper=paper, units=units) for ref in chosen
    )
    return pdf("retest_athlete", OwnRetestPages("Test and retest", pages), paper=paper)


def _page(
    found: Retest, ref: str, *, people: RetestPeople, catalogue: Catalogue, paper: Paper, units: Units
) -> OwnRetestPage:
    words = own_retest_words(
        found,
        ref,
        name=people.name(ref),
        catalogue=catalogue,
        goal_m=people.goal_m,
        done=(people.done or {}).get(ref),
        units=units,
    )
    both = found.curve(ref)
    curves = two_curves(both.before, both.after, name=words.title) if both else None
    return OwnRetestPage(
        words=words,
        curve=before_after_svg(curves, ident=f"two-{ref}", height=270.0) if curves else "",
        curve_words=curves.summary if curves else "",
        curve_note=CURVE_NOTE if curves else "",
        foot=f"{words.title} · printed {full_date(paper.printed)}",
    )
