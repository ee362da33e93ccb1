"""Which units the site's people read and type: metric or US, for each sort of quantity."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from protoconch.records.models import Site
from protoconch.units.preferred import QUANTITIES
from protoconch.web.access import Request, Role, allowed
from protoconch.words import listed, say

LABELS = {
    "volume": gettext_lazy("Water and culture"),
    "flow": gettext_lazy("Flow of water"),
    "temperature": gettext_lazy("Temperature"),
    "mass": gettext_lazy("Feed and salt"),
}
"""What each choice is called; a choice without a name here is not offered."""


class Units(forms.Form):
    """One choice for each sort of quantity."""

    def __init__(self, *given: Any, **parts: Any) -> None:
        super().__init__(*given, **parts)
        for name, label in LABELS.items():
            metric, american, _shown = QUANTITIES[name]
            self.fields[name] = forms.ChoiceField(
                label=label, widget=forms.RadioSelect,
                choices=[("metric", str(say(metric))), ("us", str(say(american)))],
            )  # fmt: skip


@allowed(Role.MANAGER)
def choose(request: Request) -> HttpResponse:
    """Choose the units of the pages; nothing that is kept changes by it."""
    now = request.site.us_units.split()
    standing = {name: "us" if name in now else "metric" for name in LABELS}
    form = Units(request.POST or None, initial=standing)
    if request.method == "POST" and form.is_valid():
        chosen = " ".join(name for name in LABELS if form.cleaned_data[name] == "us")
        Site.objects.filter(pk=request.site.pk).update(us_units=chosen)
        messages.success(request, _("The units are saved."))
        return redirect("site:site")
    return render(request, "site/units.html", {"form": form})


def in_words(site: Site) -> str:
    """The units in force, as a list."""
    us = site.us_units.split()
    units = {name: QUANTITIES[name] for name in LABELS}
    return listed(
        [say(american if name in us else metric) for name, (metric, american, _) in units.items()]
    )
