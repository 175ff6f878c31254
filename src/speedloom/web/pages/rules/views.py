"""The rulebook: read, searched, and its numbers changed with a reason."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from speedloom.store.briefs import brief
from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.store.permissions import allowed
from speedloom.training.rule import Rule, RuleChange, load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.rules.forms import ChangeForm, first_change
from speedloom.web.pages.rules.shown import RulesBook, number_title
from speedloom.web.squad_brief import in_words, keep, shown_revision
from speedloom.wording.names import word

UNPROCESSABLE = 422


@needs("see_rules")
def rules_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Show the rules by topic, those that a search finds."""
    was = brief(request.actor, squad.key)
    book = RulesBook(load_rulebook().with_changes(was.brief.rules))
    search = request.GET.get("q", "").strip()[:100]
    topics = book.topics(search)
    context = {
        "squad": squad,
        "search": search,
        "topics": topics,
        "count": sum(len(rules) for _name, rules in topics),
        "changed": [one for rule in book.rulebook.rules if (one := book.rule(rule)).changed],
        "sources": [] if search else book.sources(),
    }
    return render(request, "rules/rules.html", context)


@needs("see_rules", change="change_rules")
def rule_page(request: Request, squad: SquadCard, rule: str) -> HttpResponse:
    """Show one rule with its numbers; change one, or put the book's own back."""
    was = brief(request.actor, squad.key)
    found = next((one for one in load_rulebook().rules if one.id == rule), None)
    if found is None:
        raise Http404(_("There is no such rule in the rulebook."))
    changes = allowed(request.actor, "change_rules", squad=squad.key)
    name = request.POST.get("number") or request.GET.get("number", "")
    form = _form(request, was, found, name) if changes and name in found.numbers else None
    if request.method == "POST" and form is not None and _done(request, squad, was, (found, name, form)):
        return HttpResponseRedirect(reverse("rule", args=[squad.key, rule]))
    book = RulesBook(load_rulebook().with_changes(was.brief.rules))
    context = {
        "squad": squad,
        "rule": book.rule(found),
        "number": name,
        "number_title": number_title(name, found.numbers[name]) if form else "",
        "form": form,
        "changes": changes,
        "after": shown_revision(request, was),
    }
    return render(request, "rules/rule.html", context, status=UNPROCESSABLE if request.POST else 200)


def _form(request: Request, was: BriefRevision, rule: Rule, name: str) -> ChangeForm:
    typed = request.POST if request.method == "POST" and "put_back" not in request.POST else None
    number = rule.numbers[name]
    before = next((one for one in was.brief.rules if (one.rule, one.number) == (rule.id, name)), None)
    return ChangeForm(typed, number=number, initial=first_change(number, before))


def _done(
    request: Request, squad: SquadCard, was: BriefRevision, asked: tuple[Rule, str, ChangeForm]
) -> bool:
    """Save what was asked for; what stands against it is said at the form's fields."""
    rule, name, form = asked
    if form.is_bound and not form.is_valid():
        return False
    new = form.change(rule.id, name) if form.is_bound else None
    rest = [one for one in was.brief.rules if (one.rule, one.number) != (rule.id, name)]
    rules: tuple[RuleChange, ...] = (*rest, new) if new else tuple(rest)
    said = _("%s changed") if new else _("%s put back")
    faults = keep(
        request,
        squad,
        was,
        was.brief.model_copy(update={"rules": rules}),
        reason=said % f"{word(rule.id)}, {number_title(name, rule.numbers[name])}",
    )
    for fault in faults:
        if fault.column.endswith("approved_by"):
            form.add_error(
                "approved_by", _("This loosens a hard health rule: expected the name of who allows it.")
            )
        else:
            form.add_error("value" if fault.column.endswith("value") else None, in_words(fault))
    if not faults:
        done = _("Changed; it holds from the next programme on, and is printed with it.")
        messages.success(request, done if new else _("The book's own number holds again."))
    return not faults
