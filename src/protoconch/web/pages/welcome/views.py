"""The first start: only while nobody is known here, and then never again."""

from typing import Any

from django import forms as django_forms
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from protoconch.errors import BadInput
from protoconch.operations import starting
from protoconch.operations.first_description import first_description
from protoconch.operations.people.tries import count_try
from protoconch.records.models import Person
from protoconch.web.access import ANYONE, allowed
from protoconch.web.access.devices import sign_in_here
from protoconch.web.pages.welcome.forms import FirstCode
from protoconch.web.pages.welcome.questions import KEYS, QUESTIONS, offered

KEPT, LET_IN = "first answers", "first code given"


@allowed(ANYONE)
@never_cache
def start(request: HttpRequest) -> HttpResponse:
    """The first page of all: it asks for the code that the program printed, or is given it.

    No machine is let in without it: behind a proxy or a tunnel every machine looks like this one.
    """
    _while_nobody_is_known()
    if _let_in(request):
        return redirect("welcome:question", KEYS[0])
    given = request.POST if request.method == "POST" else request.GET
    form = FirstCode(given if "code" in given or request.method == "POST" else None)
    if form.is_valid():
        try:
            _prove(request, form.cleaned_data["code"])
        except BadInput as fault:
            form.add_error("code", str(fault))
        else:
            request.session[LET_IN] = True
            return redirect("welcome:question", KEYS[0])
    return render(request, "welcome/code.html", {"form": form})


def _prove(request: HttpRequest, typed: str) -> None:
    count_try("first code", str(request.META.get("REMOTE_ADDR")), timezone.now())
    if not starting.first_code_fits(typed):
        raise BadInput(_("This is not the code. It stands where the program was started."))


@allowed(ANYONE)
@sensitive_post_parameters("password")
@never_cache
def question(request: HttpRequest, key: str) -> HttpResponse:
    """One question; what is typed is kept, whichever way one goes on."""
    _while_nobody_is_known()
    if not _let_in(request):
        return redirect("welcome:start")
    if key not in KEYS:
        raise Http404
    if request.method != "POST":
        return _shown(request, key, _form(request, key))
    form = QUESTIONS[KEYS.index(key)].form(request.POST)
    _keep(request, key)
    if request.POST.get("go") == "back":
        return redirect("welcome:question", KEYS[max(0, KEYS.index(key) - 1)])
    if not form.is_valid():
        return _shown(request, key, form)
    if key != KEYS[-1]:
        return redirect("welcome:question", KEYS[KEYS.index(key) + 1])
    return _started(request, form)


def _started(request: HttpRequest, form: django_forms.Form) -> HttpResponse:
    """Make the hatchery of all answers, sign its manager in, and have the plan made."""
    answers = _answers(request)
    lacking = next((key for key in KEYS[:-1] if key not in answers), None)
    if lacking:
        return redirect("welcome:question", lacking)
    who = form.cleaned_data
    try:
        text = first_description(answers)
        zone = answers["where"]["zone"]
        person = starting.start(text, zone, who["name"], who["password"])
    except BadInput as fault:
        form.add_error(None, str(fault))
        return _shown(request, KEYS[-1], form)
    request.session.flush()
    sign_in_here(request, person, known=True)
    return _to_the_plan(person)


def _to_the_plan(person: Person) -> HttpResponse:
    from protoconch.operations.planning import make_plan

    make_plan(person.site)
    return redirect("season:season")


def _shown(request: HttpRequest, key: str, form: django_forms.Form) -> HttpResponse:
    place = KEYS.index(key)
    said = {"form": form, "question": QUESTIONS[place], "number": place + 1, "keys": KEYS,
            "many": len(KEYS), "last": place == len(KEYS) - 1, "first": place == 0}  # fmt: skip
    return render(request, "welcome/question.html", said)


def _form(request: HttpRequest, key: str) -> django_forms.Form:
    """The form as it was left, faults and all, or with what is offered."""
    kind = QUESTIONS[KEYS.index(key)].form
    kept = request.session.get(KEPT, {}).get(key)
    today = timezone.localdate()
    begin = kind(initial=offered(key, today, _answers(request)))
    if kept is None:
        return begin
    names = [name for name in begin.fields if name in kept]
    many = begin.fields.get("months")
    begin.initial.update(
        {name: kept[name] if begin.fields[name] is many else kept[name][-1] for name in names}
    )
    return begin


def _keep(request: HttpRequest, key: str) -> None:
    """Keep what was typed, but no password."""
    names = QUESTIONS[KEYS.index(key)].form(request.POST).fields
    typed = {name: request.POST.getlist(name) for name in names if name != "password"}
    kept = {name: values or [""] for name, values in typed.items()}
    request.session[KEPT] = request.session.get(KEPT, {}) | {key: kept}


def _answers(request: HttpRequest) -> dict[str, Any]:
    """The answers that will do, as cleaned, by question."""
    found = {}
    for kind in QUESTIONS[:-1]:
        kept = request.session.get(KEPT, {}).get(kind.key)
        if kept is not None:
            form = kind.form(_sent(kept))
            if form.is_valid():
                found[kind.key] = form.cleaned_data
    return found


def _sent(kept: dict[str, list[str]]) -> Any:
    sent = QueryDict(mutable=True)
    for name, values in kept.items():
        sent.setlist(name, values)
    return sent


def _while_nobody_is_known() -> None:
    if starting.started():
        raise Http404


def _let_in(request: HttpRequest) -> bool:
    """Whether the code was given in this browser."""
    return bool(request.session.get(LET_IN))
