"""People: who is what, invitations by link, roles changed, access taken away."""

from __future__ import annotations

from io import BytesIO

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from speedloom.store import invitations, people
from speedloom.store.athletes import athletes
from speedloom.store.cards import ROLES, MemberCard, SquadCard
from speedloom.store.permissions import allowed
from speedloom.store.refusals import NotThereError, RefusedError
from speedloom.web.access import Request, needs
from speedloom.web.pages.people.forms import DOES, InvitationForm, RoleForm

UNPROCESSABLE = 422
THIS_COMPUTER = {"localhost", "127.0.0.1", "[::1]"}


@needs("see_people", change="invite_athlete")
@never_cache
def people_page(request: Request, squad: SquadCard) -> HttpResponse:
    """List the people and the open invitations; make an invitation, whose link is shown once."""
    form = InvitationForm(
        request.POST if request.method == "POST" else None,
        roles=invitations.may_invite(request.actor, squad.key),
        people=athletes(request.actor, squad.key),
        initial={"role": "athlete"},
    )
    if form.is_bound and form.is_valid():
        try:
            card, secret = invitations.invite(
                request.actor, squad.key, for_name=form.cleaned_data["for_name"], **form.given
            )
        except RefusedError as error:
            form.add_error(None, str(error))
        else:
            link = request.build_absolute_uri(reverse("invited", args=[secret]))
            context = {"squad": squad, "card": card, "link": link, "square": square(link)}
            return render(request, "people/invited.html", {**context, "near": near(request)})
    names = {card.ref: card.name for card in athletes(request.actor, squad.key)}
    context = {
        "squad": squad,
        "form": form,
        "members": [(one, _about(one, names)) for one in people.members(request.actor, squad.key)],
        "invitations": invitations.invitations(request.actor, squad.key),
        "manages": allowed(request.actor, "manage_people", squad=squad.key),
        "near": near(request),
        "roles": [(role, DOES[role]) for role in ROLES],
    }
    return render(request, "people/people.html", context, status=UNPROCESSABLE if form.is_bound else 200)


def near(request: Request) -> bool:
    """Say whether the site is asked on this computer only, where links of it lead nobody else."""
    host = request.get_host()
    return (host.rpartition(":")[0] or host) in THIS_COMPUTER


def _about(member: MemberCard, names: dict[str, str]) -> str:
    """Say whom of the squad somebody's role reaches."""
    if member.athlete:
        return names.get(member.athlete, member.athlete)
    return ", ".join(names.get(ref, ref) for ref in member.only) or _("the whole squad")


def square(link: str) -> str:
    """Draw a QR code as SVG, without style attributes: dark on white in every theme."""
    import segno  # noqa: PLC0415 - only who invites waits for it

    out = BytesIO()
    segno.make(link, micro=False).save(
        out,
        kind="svg",
        border=4,
        omitsize=True,
        dark="#000",
        light="#fff",
        xmldecl=False,
        svgns=True,
        nl=False,
    )
    return out.getvalue().decode()


@needs("manage_people", change="manage_people")
def member_page(request: Request, squad: SquadCard) -> HttpResponse:
    """Change somebody's role, or take their access away."""
    wanted = request.POST.get("person") or request.GET.get("person")
    if wanted is None:
        return _back(squad)
    member = next(
        (one for one in people.members(request.actor, squad.key) if str(one.person) == wanted), None
    )
    if member is None:
        raise NotThereError(_("This person is not of the squad any more."))
    form = RoleForm(
        request.POST if "role" in request.POST else None,
        roles=ROLES,
        people=athletes(request.actor, squad.key),
        initial={"role": member.role, "athlete": member.athlete or "", "only": member.only},
    )
    refused = _changed(request, squad, member, form)
    if refused is None:
        return _back(squad)
    context = {"squad": squad, "member": member, "form": form, "refused": refused}
    context["oneself"] = member.person == request.actor.person
    status = UNPROCESSABLE if request.method == "POST" else 200
    return render(request, "people/member.html", context, status=status)


def _changed(request: Request, squad: SquadCard, member: MemberCard, form: RoleForm) -> str | None:
    """Do what was asked for; None when it is done, else what stands against it."""
    try:
        if "remove" in request.POST:
            people.remove_member(request.actor, squad.key, member.person)
            messages.success(request, _("%s has no access any more.") % member.name)
            return None
        if form.is_bound and form.is_valid():
            people.change_member(request.actor, squad.key, member.person, **form.given)
            messages.success(request, _("The role of %s is changed.") % member.name)
            return None
    except RefusedError as error:
        return str(error)
    return ""


@needs(None, change="invite_athlete")
def take_back(request: Request, squad: SquadCard) -> HttpResponse:
    """Take an invitation back."""
    number = request.POST.get("number", "")
    invitations.revoke_invitation(request.actor, squad.key, int(number) if number.isdecimal() else 0)
    messages.success(request, _("The invitation is taken back; its link opens nothing any more."))
    return _back(squad)


def _back(squad: SquadCard) -> HttpResponse:
    return HttpResponseRedirect(reverse("people", args=[squad.key]))
