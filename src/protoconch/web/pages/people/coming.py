"""Coming in and going out: sign in, join by a code, choose a new password, choose a language."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate, logout
from django.contrib.auth.tokens import default_token_generator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from protoconch.errors import BadInput, UnknownName
from protoconch.operations.people import invitations
from protoconch.operations.people.codes import plain
from protoconch.operations.people.tries import TooSoon, count_try, forget_tries, sweep_tries
from protoconch.records.models import Person
from protoconch.web.access import ANYONE, Role, allowed
from protoconch.web.access.devices import sign_in_here
from protoconch.web.pages.people.forms import Join, NewPassword, SignIn


@allowed(ANYONE)
@sensitive_post_parameters("password")
@never_cache
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for name and password; who fails waits, longer each time."""
    if not Person.objects.exists():
        return redirect("welcome:start")
    form = SignIn(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            person = _proved(request, form.cleaned_data["name"], form.cleaned_data["password"])
        except BadInput as fault:
            form.add_error(None, _waiting(fault))
        else:
            sign_in_here(request, person, known=form.cleaned_data["known"])
            return redirect(_back(request))
    return render(request, "people/sign_in.html", {"form": form, "next": _back(request)})


def _proved(request: HttpRequest, name: str, password: str) -> Person:
    """The person of that name and password. Raises: BadInput, the same for whatever is wrong."""
    sign_in_by, now = plain(name), timezone.now()
    sweep_tries(now)
    count_try(f"sign in {sign_in_by}", _address(request), now)
    person = authenticate(request, username=sign_in_by, password=password)
    if not isinstance(person, Person):
        raise BadInput(_("Name and password do not belong together. Look at both once more."))
    forget_tries(f"sign in {sign_in_by}")
    return person


@allowed(Role.VIEWER, asks_who=False)
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Sign out of this browser; the tablet of the room stays what it is."""
    if getattr(request.user, "tablet", False):
        messages.error(request, _("A manager ends the tablet by signing in on it."))
        return redirect("people:me")
    logout(request)
    messages.success(request, _("You are signed out."))
    return redirect("people:sign-in")


@allowed(ANYONE)
@sensitive_post_parameters("password")
@never_cache
def join(request: HttpRequest) -> HttpResponse:
    """Come in by a code: choose a name and a password."""
    form = Join(request.POST or None, initial={"code": request.GET.get("code", "")[:200]})
    if request.method == "POST" and form.is_valid():
        typed = form.cleaned_data
        try:
            count_try(f"join {_address(request)}", _address(request), timezone.now())
            person = invitations.join(
                typed["code"], typed["name"], typed["password"], timezone.now()
            )
        except UnknownName as fault:
            form.add_error("code", str(fault))
        except TooSoon as fault:
            form.add_error(None, _waiting(fault))
        except BadInput as fault:
            forget_tries(f"join {_address(request)}")
            form.add_error("name", str(fault))
        else:
            forget_tries(f"join {_address(request)}")
            sign_in_here(request, person, known=True)
            messages.success(request, _("Welcome, %(name)s.") % {"name": person.name})
            return redirect("today:day")
    return render(request, "people/join.html", {"form": form})


@allowed(ANYONE)
@sensitive_post_parameters("password")
@never_cache
def renew(request: HttpRequest, number: int, token: str) -> HttpResponse:
    """Choose a new password by the address that a manager gave; it works once."""
    person = Person.objects.filter(pk=number, active=True, tablet=False).first()
    if person is None or not default_token_generator.check_token(person, token):
        raise Http404
    form = NewPassword(request.POST or None)
    if request.method == "POST" and form.is_valid():
        person.set_password(form.cleaned_data["password"])
        person.save(update_fields=["password"])
        forget_tries(f"sign in {person.sign_in}")
        sign_in_here(request, person, known=True)
        return redirect("today:day")
    return render(request, "people/renew.html", {"form": form, "of": person})


@allowed(ANYONE)
@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """The language of the pages, for this browser and, where signed in, for the person."""
    chosen = request.POST.get("language", "")
    answer = redirect(_back(request))
    if chosen in dict(settings.LANGUAGES):
        age = settings.SESSION_COOKIE_AGE
        answer.set_cookie(settings.LANGUAGE_COOKIE_NAME, chosen, max_age=age, samesite="Lax")
        if isinstance(request.user, Person):
            Person.objects.filter(pk=request.user.pk).update(language=chosen)
    return answer


def _back(request: HttpRequest) -> str:
    """Where to go on: an address of ours, never of somebody else."""
    wanted = request.POST.get("next") or request.GET.get("next") or "/"
    ours = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, request.is_secure())
    return wanted if ours and wanted.startswith("/") else "/"


def _address(request: HttpRequest) -> str:
    return str(request.META.get("REMOTE_ADDR", ""))


def _waiting(fault: BadInput) -> str:
    if isinstance(fault, TooSoon):
        said = _("Too many tries. Wait %(n)s seconds, then try once more.")
        return said % {"n": fault.seconds}
    return str(fault)
