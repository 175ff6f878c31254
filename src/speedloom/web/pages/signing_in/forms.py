"""Forms of getting in: what they take, not what is right."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

_LOGIN = forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"})
_OLD = forms.PasswordInput(attrs={"autocomplete": "current-password"})
_NEW = forms.PasswordInput(attrs={"autocomplete": "new-password"})


class SignInForm(forms.Form):
    """Login and password."""

    login = forms.CharField(label=_("Name to sign in with"), max_length=150, widget=_LOGIN)
    password = forms.CharField(label=_("Password"), max_length=500, widget=_OLD, strip=False)


class NewAccountForm(forms.Form):
    """What a new account takes."""

    name = forms.CharField(
        label=_("Your name"), max_length=150, widget=forms.TextInput(attrs={"autocomplete": "name"})
    )
    login = forms.CharField(
        label=_("Name to sign in with"),
        max_length=150,
        help_text=_("An e-mail address, or any word without spaces."),
        widget=_LOGIN,
    )
    password = forms.CharField(
        label=_("Password"),
        max_length=500,
        help_text=_("At least ten characters; a sentence is good."),
        widget=_NEW,
        strip=False,
    )


class PasswordForm(forms.Form):
    """A new password for the own account."""

    password = forms.CharField(
        label=_("New password"),
        max_length=500,
        help_text=_("At least ten characters; a sentence is good."),
        widget=_NEW,
        strip=False,
    )


class NameForm(forms.Form):
    """What the person of the own account is called."""

    name = forms.CharField(
        label=_("What you are called"),
        max_length=150,
        help_text=_("It stands beside what you write down and change. You still sign in with the same name."),
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )


class UnitsForm(forms.Form):
    """Units of screens and paper."""

    mass = forms.ChoiceField(label=_("Loads in"), choices=[("kg", _("kilograms")), ("lb", _("pounds"))])
    length = forms.ChoiceField(label=_("Distances in"), choices=[("m", _("metres")), ("yd", _("yards"))])
