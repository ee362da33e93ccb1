"""A person's own page: name, language, password, number for the tablet, signed-in devices."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from protoconch.errors import BadInput
from protoconch.operations.people.roles import set_pin
from protoconch.operations.people.tries import count_try, forget_tries
from protoconch.records.models import Person
from protoconch.web.access import Request, Role, allowed
from protoconch.web.access.devices import devices_of, end_devices
from protoconch.web.pages.people.forms import ChangePassword, TabletNumber


@allowed(Role.VIEWER)
def me(request: Request) -> HttpResponse:
    """Who I am here, and where I am signed in."""
    key = request.session.session_key or ""
    said = {"devices": devices_of(request.person, key), "languages": settings.LANGUAGES}
    return render(request, "people/me.html", said)


@allowed(Role.VIEWER)
@sensitive_post_parameters("old", "password")
def password(request: Request) -> HttpResponse:
    """Change the password; other devices are signed out by it."""
    _on_own_device(request)
    form = ChangePassword(request.POST or None)
    if request.method == "POST" and form.is_valid():
        fault = _not_proved(request.person, form.cleaned_data["old"])
        if fault:
            form.add_error("old", fault)
        else:
            request.person.set_password(form.cleaned_data["password"])
            request.person.save(update_fields=["password"])
            update_session_auth_hash(request, request.person)
            messages.success(request, _("Your password is changed; other devices are signed out."))
            return redirect("people:me")
    return render(request, "people/password.html", {"form": form})


@allowed(Role.CREW)
@sensitive_post_parameters("number", "password")
def tablet_number(request: Request) -> HttpResponse:
    """Choose the number that the tablet of the room asks for."""
    _on_own_device(request)
    form = TabletNumber(request.POST or None)
    if request.method == "POST" and form.is_valid():
        fault = _not_proved(request.person, form.cleaned_data["password"])
        if fault:
            form.add_error("password", fault)
        else:
            try:
                set_pin(request.person, form.cleaned_data["number"])
            except BadInput as wrong:
                form.add_error("number", str(wrong))
            else:
                messages.success(request, _("The number for the tablet is saved."))
                return redirect("people:me")
    return render(request, "people/tablet_number.html", {"form": form})


@allowed(Role.VIEWER)
@require_POST
def end_device(request: Request) -> HttpResponse:
    """Sign out on one of my devices."""
    _on_own_device(request)
    if end_devices(request.person, request.POST.getlist("device")):
        messages.success(request, _("That device is signed out."))
    return redirect("people:me")


def _on_own_device(request: Request) -> None:
    if request.user != request.person or request.person.tablet:
        raise PermissionDenied


def _not_proved(person: Person, typed: str) -> str:
    """What is wrong with a password typed by somebody who is signed in, or nothing."""
    account = f"sign in {person.sign_in}"
    try:
        count_try(account, account, timezone.now())
    except BadInput as fault:
        return str(fault)
    if not person.check_password(typed):
        return _("This is not your password.")
    forget_tries(account)
    return ""
