"""What people type about themselves."""

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext_lazy as _

from protoconch.records.models import Role
from protoconch.web.shell.fields import Words

AS_TYPED = {"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}
PASSWORD = _("Password")
PASSWORD_HINT = _("At least 10 characters; three or four words of your own are good.")


def password_field(label: Any = PASSWORD, *, new: bool = False) -> forms.CharField:
    """A password, kept off the page when it comes back. new: one that is being chosen."""
    fill = "new-password" if new else "current-password"
    return forms.CharField(
        label=label, strip=False, max_length=200, help_text=PASSWORD_HINT if new else "",
        widget=forms.PasswordInput(attrs={"autocomplete": fill}),
    )  # fmt: skip


class SignIn(forms.Form):
    """A name and a password."""

    name = Words(label=_("Your name"), widget=forms.TextInput(attrs=AS_TYPED))
    password = password_field()
    known = forms.BooleanField(
        label=_("This is my own phone or computer: keep me signed in for 180 days"),
        required=False, initial=True,
    )  # fmt: skip


class NewPassword(forms.Form):
    """A password that is being chosen."""

    password = password_field(new=True)

    def clean_password(self) -> str:
        """The password, where it is hard enough to guess."""
        typed: str = self.cleaned_data["password"]
        validate_password(typed)
        return typed


class Join(NewPassword):
    """A code from a manager, and who comes in by it."""

    code = Words(
        200, label=_("Code from your manager"), help_text=_("Six words."),
        widget=forms.TextInput(attrs=AS_TYPED | {"autocomplete": "off"}),
    )  # fmt: skip
    name = Words(
        label=_("Your name"), help_text=_("As the log shall show it, and to sign in by."),
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )  # fmt: skip

    field_order = ("code", "name", "password")


class ChangePassword(NewPassword):
    """A new password, and the old one to prove who asks."""

    old = password_field(_("Password so far"))
    password = password_field(_("New password"), new=True)
    field_order = ("old", "password")


class TabletNumber(forms.Form):
    """A short number for the tablet of the room, and the password to prove who asks."""

    number = forms.CharField(
        label=_("Number for the tablet"), required=False, max_length=8,
        help_text=_("4 to 8 digits; leave it empty to be asked for none."),
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )  # fmt: skip
    password = password_field(_("Your password"))


class Invite(forms.Form):
    """For whom a way in is made."""

    role = forms.ChoiceField(
        label=_("What may they do?"), widget=forms.RadioSelect, initial=Role.CREW,
        choices=[
            (Role.CREW, _("Crew: see everything and enter what was seen and done")),
            (Role.VIEWER, _("Viewer: look only, for an advisor or a funder")),
            (Role.MANAGER, _("Manager: all of it, and people and the hatchery's description")),
        ],
    )  # fmt: skip
    name = Words(label=_("For whom?"), required=False,
                 help_text=_("Only for your own list; may stay empty."))  # fmt: skip


class RoleOf(forms.Form):
    """The role of a person."""

    role = forms.ChoiceField(label=_("Role"), choices=Role.choices, widget=forms.RadioSelect)


class Tablet(forms.Form):
    """The tablet that this browser becomes."""

    name = Words(60, label=_("What is this tablet called?"), initial=_("Tablet of the room"))
