"""Getting in and out."""

from __future__ import annotations

from django.contrib import messages
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from speedloom.store import invitations, people, signing_in
from speedloom.store.cards import LengthUnit, MassUnit
from speedloom.store.refusals import RefusedError, TooManyTriesError
from speedloom.web.access import Request, everybody, person, signed_in
from speedloom.web.pages.signing_in.forms import (
    NameForm,
    NewAccountForm,
    PasswordForm,
    SignInForm,
    UnitsForm,
)

TOO_MANY = 429
UNUSABLE = 422


@everybody
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def sign_in_page(request: HttpRequest) -> HttpResponse:
    """Sign in by password, and go on to where the person wanted to be."""
    form, status = SignInForm(request.POST or None), 200
    if request.method == "POST" and form.is_valid():
        try:
            found = signing_in.sign_in(request, **form.cleaned_data)
        except TooManyTriesError as error:
            form.add_error(None, str(error))
            status = TOO_MANY
        else:
            if found is not None:
                return redirect(_wanted(request))
            form.add_error(
                None, _("This name and password do not belong together. Check both, or ask for a link.")
            )
            status = UNUSABLE
    context = {"form": form, "next": _wanted(request)}
    return render(request, "signing_in/sign_in.html", context, status=status)


def _wanted(request: HttpRequest) -> str:
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    here = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if here else reverse("today")


@everybody
@never_cache
@require_http_methods(["GET", "POST"])
def one_time(request: HttpRequest, secret: str) -> HttpResponse:
    """Sign in by the link that `serve` opens and prints."""
    signing_in.sign_in_once(request, secret)
    return redirect("today")


@everybody
@require_POST
def sign_out_page(request: HttpRequest) -> HttpResponse:
    """End the session."""
    signing_in.sign_out(request)
    return redirect("sign_in")


@everybody
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def invited(request: HttpRequest, secret: str) -> HttpResponse:
    """Take part in a squad: with the account that is signed in, or with a new one."""
    card, form, status = invitations.invitation(secret), NewAccountForm(request.POST or None), 200
    actor = person(request)
    if request.method == "POST":
        try:
            if actor is not None:
                invitations.accept(actor, secret)
                return redirect("today")
            if form.is_valid():
                new = invitations.accept_with_new_account(secret, **form.cleaned_data)
                signing_in.enter(request, new)
                return redirect("today")
        except RefusedError as error:
            _say(request, form, str(error))
        status = UNUSABLE
    context = {"card": card, "form": form, "secret": secret}
    return render(request, "signing_in/invited.html", context, status=status)


def _say(request: HttpRequest, form: NewAccountForm, why: str) -> None:
    if form.is_bound:
        form.add_error(None, why)
    else:
        messages.error(request, why)


@signed_in
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def account(request: Request) -> HttpResponse:
    """Show the own account: name, password and units."""
    units, password, name = _units(request), _password(request), _name(request)
    if name.is_bound and name.is_valid():
        people.set_name(request.actor, name.cleaned_data["name"])
        messages.success(request, _("Your name is saved."))
        return redirect("account")
    if units.is_bound and units.is_valid():
        mass: MassUnit = "lb" if units.cleaned_data["mass"] == "lb" else "kg"
        length: LengthUnit = "yd" if units.cleaned_data["length"] == "yd" else "m"
        people.set_units(request.actor, mass=mass, length=length)
        messages.success(request, _("Your units are saved."))
        return redirect("account")
    if password.is_bound and password.is_valid():
        try:
            people.set_password(request.actor, password.cleaned_data["password"])
        except RefusedError as error:
            password.add_error("password", str(error))
        else:
            signing_in.enter(request, request.actor)
            messages.success(request, _("Your password is saved; other devices have to sign in again."))
            return redirect("account")
    context = {
        "name": name,
        "units": units,
        "password": password,
        "has_password": people.has_password(request.actor),
    }
    return render(request, "signing_in/account.html", context, status=UNUSABLE if request.POST else 200)


def _name(request: Request) -> NameForm:
    return NameForm(request.POST if "name" in request.POST else None, initial={"name": request.actor.name})


def _units(request: Request) -> UnitsForm:
    if "mass" in request.POST:
        return UnitsForm(request.POST)
    return UnitsForm(initial={"mass": request.actor.mass_unit, "length": request.actor.length_unit})


def _password(request: Request) -> PasswordForm:
    return PasswordForm(request.POST if "password" in request.POST else None)


@everybody
@never_cache
@require_GET
def health(_request: HttpRequest) -> HttpResponse:
    """Say that the site answers and the database can be read; nothing about what is in it."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok\n", content_type="text/plain; charset=utf-8")
