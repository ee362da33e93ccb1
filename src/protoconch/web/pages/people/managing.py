"""What a manager does with people: invite, change roles, close the way in, set up the tablet."""

import segno
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.tokens import default_token_generator
from django.core.exceptions import BadRequest
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from protoconch.errors import BadInput, UnknownName
from protoconch.operations.people import invitations, roles
from protoconch.records.models import Invitation, Person
from protoconch.web.access import Request, Role, allowed
from protoconch.web.access.devices import devices_of, sign_in_here
from protoconch.web.access.devices import end_devices as end_on
from protoconch.web.pages.people.forms import Invite, RoleOf, Tablet

HERE_ONLY = ("localhost", "127.0.0.1", "[::1]")


@allowed(Role.MANAGER)
def people(request: Request) -> HttpResponse:
    """Everybody of the hatchery, and the invitations that are open."""
    everybody = Person.objects.filter(site=request.site).order_by("-active", "name")
    waiting = Invitation.objects.filter(
        site=request.site, used__isnull=True, until__gt=timezone.now()
    ).order_by("until")
    said = {"everybody": everybody, "active": everybody.filter(active=True, tablet=False).count(),
            "waiting": waiting}  # fmt: skip
    return render(request, "people/people.html", said)


@allowed(Role.MANAGER)
@never_cache
def invite(request: Request) -> HttpResponse:
    """Make a way in and show its code, this once."""
    form = Invite(request.POST or None)
    if request.method == "POST" and form.is_valid():
        made = invitations.invite(
            request.site, form.cleaned_data["role"], form.cleaned_data["name"], timezone.now()
        )
        there = reverse("people:join")
        address = request.build_absolute_uri(f"{there}?{urlencode({'code': made.code})}")
        said = {
            "code": made.code, "invitation": made.invitation, "square": _square(address),
            "short": request.build_absolute_uri(there), "here_only": _here_only(request),
        }  # fmt: skip
        return render(request, "people/invited.html", said)
    return render(request, "people/invite.html", {"form": form})


@allowed(Role.MANAGER)
@require_POST
def withdraw(request: Request, number: int) -> HttpResponse:
    """Make an invitation open nothing any more."""
    invitations.withdraw(request.site, number)
    messages.success(request, _("That code opens nothing any more."))
    return redirect("people:people")


@allowed(Role.MANAGER)
def person(request: Request, number: int) -> HttpResponse:
    """One person: role, devices, way in."""
    of = _person(request, number)
    form = RoleOf(request.POST or None, initial={"role": of.role})
    if request.method == "POST" and form.is_valid():
        try:
            roles.change_role(request.site, number, form.cleaned_data["role"])
        except BadInput as fault:
            form.add_error("role", str(fault))
        else:
            messages.success(request, _("The role is changed."))
            return redirect("people:people")
    said = {"form": form, "of": of, "devices": devices_of(of)}
    return render(request, "people/person.html", said)


@allowed(Role.MANAGER)
@require_POST
def way_in(request: Request, number: int) -> HttpResponse:
    """Open or close a person's way in; what they entered stays."""
    of, wanted = _person(request, number), request.POST.get("active")
    if wanted not in ("yes", "no"):
        raise BadRequest
    active = wanted == "yes"
    try:
        roles.let_in(request.site, number, active=active)
    except BadInput as fault:
        messages.error(request, str(fault))
        return redirect("people:person", number)
    if not active:
        end_on(of, [device.key for device in devices_of(of)])
    said = _("%(name)s can come in again.") if active else _("%(name)s cannot come in any more.")
    messages.success(request, said % {"name": of.name})
    return redirect("people:people")


@allowed(Role.MANAGER)
@require_POST
@never_cache
def new_password(request: Request, number: int) -> HttpResponse:
    """A square to scan, by which a person chooses a new password once."""
    of = _person(request, number)
    if of.tablet or not of.active:
        raise Http404
    token = default_token_generator.make_token(of)
    address = request.build_absolute_uri(reverse("people:renew", args=[of.pk, token]))
    said = {"of": of, "address": address, "square": _square(address),
            "here_only": _here_only(request)}  # fmt: skip
    return render(request, "people/renewal.html", said)


@allowed(Role.MANAGER)
@require_POST
def end_devices(request: Request, number: int) -> HttpResponse:
    """Sign a person out everywhere."""
    of = _person(request, number)
    end_on(of, [device.key for device in devices_of(of)])
    messages.success(request, _("%(name)s is signed out everywhere.") % {"name": of.name})
    return redirect("people:person", number)


@allowed(Role.MANAGER)
def tablet(request: Request) -> HttpResponse:
    """Turn this browser into the tablet of the room; the manager is signed out of it."""
    form = Tablet(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            made = roles.new_tablet(request.site, form.cleaned_data["name"])
        except BadInput as fault:
            form.add_error("name", str(fault))
        else:
            logout(request)
            sign_in_here(request, made, known=True)
            messages.success(request, _("This is the tablet of the room now."))
            return redirect("today:day")
    return render(request, "people/tablet.html", {"form": form})


def _person(request: Request, number: int) -> Person:
    try:
        return roles.person_of(request.site, number)
    except UnknownName:
        raise Http404 from None


def _square(address: str) -> str:
    """The address as a code to scan, drawn."""
    return segno.make(address, error="m").svg_inline(
        scale=6, border=3, dark="#000", light="#fff", svgclass="square", omitsize=True
    )


def _here_only(request: HttpRequest) -> bool:
    """Whether the page was opened by a name that only this machine understands."""
    return request.get_host().rsplit(":", 1)[0] in HERE_ONLY
