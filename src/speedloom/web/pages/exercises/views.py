"""Exercises: read, searched, preferred or left out for the squad."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.translation import gettext as _

from speedloom.store.briefs import brief
from speedloom.store.cards import SquadCard
from speedloom.store.permissions import allowed
from speedloom.training.brief import ExerciseChoice
from speedloom.training.exercise import Catalogue, Exercise, load_catalogue
from speedloom.web.access import Request, needs
from speedloom.web.squad_brief import in_words, keep, shown_revision
from speedloom.wording.dates import listing
from speedloom.wording.names import METHOD_NAMES, exercise_name, word

PREFIX = "choice-"
CHOICES = ("", "prefer", "leave_out")


@dataclass(frozen=True)
class ExerciseShown:
    """One exercise as the page lists it."""

    ref: str
    name: str
    method: str
    choice: str
    needs: str
    cue: str
    more: tuple[tuple[str, str], ...]

    def holds(self, words: Iterable[str]) -> bool:
        """Say whether every word of a search stands somewhere in it."""
        more = " ".join(text for _label, text in self.more)
        text = f"{self.name} {METHOD_NAMES[self.method]} {self.needs} {self.cue} {more}".casefold()
        return all(one in text for one in words)


@needs("see_rules", change="change_squad")
def exercises_page(request: Request, squad: SquadCard) -> HttpResponse:
    """List the exercises that a search finds; keep which are preferred and which are left out."""
    was, catalogue = brief(request.actor, squad.key), load_catalogue()
    if request.method == "POST":
        chosen = _chosen(was.brief.exercises, request.POST.dict(), catalogue)
        changed = was.brief.model_copy(update={"exercises": chosen})
        faults = keep(request, squad, was, changed, reason=_("exercises"))
        for fault in faults:
            messages.error(request, in_words(fault))
        if not faults:
            messages.success(request, _("Saved; it holds from the next programme on."))
        return HttpResponseRedirect(request.get_full_path())
    search, method = request.GET.get("q", "").strip()[:100], request.GET.get("method", "")
    words = search.casefold().split()
    every = [_shown(one, catalogue, was.brief.exercises) for one in catalogue.exercises]
    found = [one for one in every if one.holds(words) and method in {"", one.method}]
    context = {
        "squad": squad,
        "search": search,
        "method": method,
        "methods": [
            (name, title) for name, title in METHOD_NAMES.items() if name in {e.method for e in every}
        ],
        "groups": [
            (METHOD_NAMES[name], [one for one in found if one.method == name])
            for name in dict.fromkeys(one.method for one in found)
        ],
        "count": len(found),
        "chosen": [one for one in every if one.choice],
        "changes": allowed(request.actor, "change_squad", squad=squad.key),
        "after": shown_revision(request, was),
    }
    return render(request, "exercises/exercises.html", context)


def _chosen(was: ExerciseChoice, typed: Mapping[str, str], catalogue: Catalogue) -> ExerciseChoice:
    """Give the choice with what was typed; what the page did not show stays as it was."""
    new = {
        name.removeprefix(PREFIX): choice
        for name, choice in typed.items()
        if name.startswith(PREFIX) and choice in CHOICES and catalogue.get(name.removeprefix(PREFIX))
    }

    def kept(before: Iterable[str], choice: str) -> tuple[str, ...]:
        # The order of those preferred is the coach's: new ones come after.
        stay = [ref for ref in before if new.get(ref, choice) == choice]
        return tuple(dict.fromkeys([*stay, *(ref for ref, one in new.items() if one == choice)]))

    return ExerciseChoice(leave_out=kept(was.leave_out, "leave_out"), prefer=kept(was.prefer, "prefer"))


def _shown(one: Exercise, catalogue: Catalogue, chosen: ExerciseChoice) -> ExerciseShown:
    left, preferred = one.ref in chosen.leave_out, one.ref in chosen.prefer
    return ExerciseShown(
        ref=one.ref,
        name=one.name,
        method=one.method,
        choice="leave_out" if left else "prefer" if preferred else "",
        needs="; ".join(_needs(one)),
        cue=one.cue,
        more=tuple((label, text) for label, text in _more(one, catalogue) if text),
    )


def _needs(one: Exercise) -> Iterator[str]:
    yield _("from %s") % one.level
    kit = [_("other kit") if kind == "other" else word(kind) for kind in one.kit]
    yield _("with %s") % listing(kit) if kit else _("no kit")
    yield listing(map(word, one.place))
    if one.minimum_age_years:
        yield _("from %s years") % one.minimum_age_years
    if one.contacts_per_rep:
        yield _("%s contacts a repetition") % one.contacts_per_rep
    if one.sides == "each":
        yield _("each side")
    if one.coach_only:
        yield _("never proposed, only set by hand")


def _more(one: Exercise, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    yield _("What it is"), " ".join(catalogue.tags.get(tag, word(tag)) for tag in one.tags)
    yield _("Before it"), " ".join(catalogue.prerequisites.get(key, word(key)) for key in one.prerequisites)
    yield _("Care"), " ".join(catalogue.cautions.get(key, word(key)) for key in one.cautions)
    yield _("In its place"), listing(exercise_name(ref, catalogue=catalogue) for ref in one.substitutes)
