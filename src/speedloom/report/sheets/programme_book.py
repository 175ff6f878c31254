"""The programme book: the weave as cover, the progression table, a page a week, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from speedloom.checking.finding import Finding, Findings
from speedloom.report.charts.profile_curve import curve_from_profile, profile_curve_svg
from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.report.sheets.paper import Paper, pdf
from speedloom.report.sheets.restrictions import clinician_named, dated_limits, with_adult
from speedloom.report.sheets.session_sheet import NothingToPrintError, foot
from speedloom.report.sheets.week_words import WeekWords, week_words
from speedloom.training.exercise import Catalogue
from speedloom.training.profile import Profile
from speedloom.training.programme import AthleteProgramme, Programme
from speedloom.training.rule import Rulebook, Source
from speedloom.wording.cautions import (
    ALWAYS,
    BAR,
    CARE,
    DROP,
    FIELD,
    HELP,
    MASTERS,
    MINORS,
    NO_CLINICIAN,
    SLED,
    WEATHER,
    is_master,
)
from speedloom.wording.dates import day_month, full_date, listing
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.wording.missing import missing_lines
from speedloom.wording.names import athlete_name, athletes_of
from speedloom.wording.summaries import assumed_words
from speedloom.wording.table import Table, progression_table
from speedloom.wording.units import METRIC, Units, length
from speedloom.workflows.profile_athlete import profile_measurements

A_WEEK = timedelta(days=6)
_LEGEND = (
    "A thread is as thick as that week's volume, measured against the method's own largest week, "
    "and as deep in colour as the work is specific. Striped: introduction and lighter weeks."
)


@dataclass(frozen=True)
class Part:
    """One athlete's part of the book."""

    name: str
    facts: tuple[str, ...]
    weave: str
    weave_words: str
    curve: str
    curve_words: str
    table: Table
    weeks: tuple[WeekWords, ...]


@dataclass(frozen=True)
class Book:
    """The whole book."""

    title: str
    legend: str
    parts: tuple[Part, ...]
    assumed: tuple[str, ...]
    changed: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    foot: str
    length_name: str


def programme_book_pdf(
    programme: Programme,
    *,
    catalogue: Catalogue,
    rulebook: Rulebook,
    paper: Paper,
    findings: Findings | None = None,
    athletes: tuple[str, ...] | None = None,
    units: Units = METRIC,
) -> bytes:
    """Print the book of all athletes, or of some; what the check has to say stands at its week.

    Raises:
        NothingToPrintError: when the programme has none of these athletes.
    """
    chosen = [own for own in programme.programmes if athletes is None or own.athlete in athletes]
    if not chosen or not any(own.weeks for own in chosen):
        msg = f"Expected an athlete of the programme, got {listing(athletes or ()) or 'none'}."
        raise NothingToPrintError(msg)
    words = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=programme, units=units)
    content = programme.brief.content
    profiles = _profiles(programme, rulebook)
    book = Book(
        title=content.name if content else f"Programme {programme.id}",
        legend=_LEGEND,
        parts=tuple(
            _part(
                programme,
                own,
                notes=_notes(own, findings, words),
                profile=profiles.get(own.profile or ""),
                catalogue=catalogue,
                units=units,
            )
            for own in chosen
        ),
        assumed=tuple(_assumed(programme, {own.athlete for own in chosen}, units)),
        changed=tuple(_changed(programme, rulebook)),
        cautions=_cautions(programme, clinician=paper.clinician),
        sources=tuple(_sources(programme, rulebook)),
        foot=foot(programme, paper=paper),
        length_name={"m": "metres", "yd": "yards"}[units.length],
    )
    return pdf("book", book, paper=paper)


def _part(
    programme: Programme,
    own: AthleteProgramme,
    *,
    notes: Mapping[int, tuple[str, ...]],
    profile: Profile | None,
    catalogue: Catalogue,
    units: Units,
) -> Part:
    weave = weave_from_programme(programme, own.athlete, catalogue=catalogue)
    name = athlete_name(programme, own.athlete)
    curve = curve_from_profile(profile, name=name) if profile else None
    person = athletes_of(programme).get(own.athlete)
    return Part(
        name=name,
        facts=tuple(_facts(programme, own, catalogue=catalogue, units=units)) + notes.get(0, ()),
        weave=weave_svg(weave, ident=f"weave-{own.athlete}"),
        weave_words=weave.summary,
        curve=profile_curve_svg(curve, ident=f"curve-{own.athlete}", width=420.0, height=225.0)
        if curve
        else "",
        curve_words=curve.summary if curve else "",
        table=progression_table(programme, own.athlete, catalogue=catalogue, units=units),
        weeks=tuple(
            week_words(
                programme,
                week,
                weeks=len(own.weeks),
                catalogue=catalogue,
                units=units,
                notes=notes.get(week.number, ()),
                person=person,
                limits=dated_limits(
                    person,
                    first=week.monday,
                    last=week.monday + A_WEEK,
                    catalogue=catalogue,
                    units=units,
                ),
            )
            for week in own.weeks
        ),
    )


def _profiles(programme: Programme, rulebook: Rulebook) -> Mapping[str, Profile]:
    """Fit the tests that the programme carries, by the profiles' references."""
    content = programme.brief.content
    if content is None:
        return {}
    found = profile_measurements(
        content.measurements, trial_rule=content.trial, rulebook=rulebook, people=athletes_of(programme)
    )
    return {profile.ref: profile for profile in found}


def _facts(
    programme: Programme, own: AthleteProgramme, *, catalogue: Catalogue, units: Units
) -> Iterator[str]:
    content = programme.brief.content
    if content is not None:
        goals = {"sprint_time": "faster over", "flying_speed": "top speed", "general": "general speed"}
        far = content.goal.distance_m
        yield f"Goal: {goals[content.goal.kind]}{f' {length(far, units=units)}' if far else ''}."
        main = [day_month(peak.date) for peak in content.goal.peaks if peak.size == "main"]
        if main:
            yield f"To be fast on {listing(main)}."
        yield f"{full_date(content.start)} to {full_date(content.end)}, {_session_count(own)}."
    if own.profile is not None:
        day, _, timing = own.profile.partition("/")[2].partition("/")
        yield f"Planned from the test of {full_date(date.fromisoformat(day))}, by {timing}."
    person = athletes_of(programme).get(own.athlete)
    if own.weeks:
        first, last = own.weeks[0].monday, own.weeks[-1].monday + A_WEEK
        limits = dated_limits(person, first=first, last=last, catalogue=catalogue, units=units)
        yield from (f"Limit, not to be passed: {limit}." for limit in limits)


def _session_count(own: AthleteProgramme) -> str:
    count = sum(len(week.sessions) for week in own.weeks)
    return f"{len(own.weeks)} weeks, {count} sessions"


def _notes(
    own: AthleteProgramme, findings: Findings | None, words: FindingsBook
) -> Mapping[int, tuple[str, ...]]:
    """Group what the check says by week; week 0 is the programme as a whole."""
    grouped: dict[int, dict[str, None]] = {}
    for finding in findings.items if findings else ():
        if finding.weight != "advice" and finding.athlete in {None, own.athlete}:
            grouped.setdefault(finding.week or 0, {})[_sentence(finding, words)] = None
    return {week: tuple(sentences) for week, sentences in grouped.items()}


def _sentence(finding: Finding, words: FindingsBook) -> str:
    kind = "Must be changed: " if finding.weight == "hard" else "To look at: "
    # Paper goes from hand to hand: who set a limit stays on the site.
    said = tuple((name, text) for name, text in finding.detail if name != "set_by")
    return kind + finding_sentence(replace(finding, detail=said), book=words)


def _assumed(programme: Programme, chosen: set[str], units: Units) -> Iterator[str]:
    content = programme.brief.content
    for entry in content.assumed if content else ():
        athlete, _, what = entry.partition(".")
        if athlete in chosen:
            yield f"{athlete_name(programme, athlete)}: {assumed_words(what)}."
    yield from missing_lines(programme, athletes=chosen, units=units)


def _changed(programme: Programme, rulebook: Rulebook) -> Iterator[str]:
    content = programme.brief.content
    for change in content.rules if content else ():
        statement = rulebook.rule(change.rule).statement
        by = f", approved by {change.approved_by}" if change.approved_by else ""
        yield f"{statement} ({change.rule}.{change.number} = {change.value:g}): {change.reason}{by}."


def _cautions(programme: Programme, *, clinician: bool) -> tuple[str, ...]:
    nobody = () if clinician or clinician_named(programme) else (NO_CLINICIAN,)
    people, begins = athletes_of(programme), _begins(programme)
    masters = (MASTERS,) if any(is_master(person, on=begins) for person in people.values()) else ()
    always = (CARE, *ALWAYS, FIELD, SLED, BAR, DROP, WEATHER, MINORS)
    return with_adult((*always, *masters, *nobody, HELP), programme)


def _begins(programme: Programme) -> date:
    return min(own.weeks[0].monday for own in programme.programmes if own.weeks)


def _sources(programme: Programme, rulebook: Rulebook) -> Iterator[str]:
    used = {node.source for node in programme.basis.values() if node.source}
    marks: dict[str, set[str]] = {}
    for node in programme.basis.values():
        if node.source:
            marks.setdefault(node.source, set()).add(node.mark)
    for source in rulebook.sources:
        if source.ref in used:
            yield f"{_reference(source)} ({', '.join(sorted(marks[source.ref]))})"


def _reference(source: Source) -> str:
    who = " ".join(filter(None, (source.authors.strip(), f"({source.year})" if source.year else "")))
    doi = f"doi:{source.doi}" if source.doi else ""
    parts = (part.strip().rstrip(".") for part in (who, source.title, source.where, doi))
    return ". ".join(filter(None, parts))
