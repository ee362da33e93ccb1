"""The medium bench: what goes into a batch, how its water is made clean, how stocks are made."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from protoconch.algae.medium import medium, stock_recipe
from protoconch.algae.sterilising import (
    CHLORINE_CAUTIONS,
    HEAT_CAUTIONS,
    autoclave_minutes,
    bleach_ml,
    microwave,
    neutraliser_g,
    usual_ratio,
)
from protoconch.errors import BadInput
from protoconch.units import text
from protoconch.web.access import Request, Role, allowed
from protoconch.web.pages.algae.forms import BenchForm
from protoconch.work.cultures.bench import usual_chlorine_mg_l, usual_residual_mg_l

USUAL = {"medium": "f/2", "litres": "20", "power": "700", "bleach": "5",
         "product": "thiosulfate-pentahydrate", "silicate": ""}  # fmt: skip
"""What the form shows at first: a carboy, a household oven, household bleach."""


@allowed(Role.VIEWER)
def bench(request: Request) -> HttpResponse:
    """A batch of medium for what the address asks."""
    usual = USUAL | {"wanted": text(usual_chlorine_mg_l()), "residual": text(usual_residual_mg_l())}
    asked = {name: request.GET.get(name, value) for name, value in usual.items()}
    form = BenchForm(asked)
    told: dict[str, Any] = {"form": form}
    if form.is_valid():
        told |= _batch(form.cleaned_data)
    return render(request, "algae/bench.html", told)


def _batch(asked: dict[str, Any]) -> dict[str, Any]:
    doses = float(asked["silicate"]) if asked["silicate"] else None
    made = medium(asked["medium"], asked["litres"], doses)
    poured = [(name, ml) for name, ml in made.stock_ml.items() if ml > 0]
    return {
        "made": made,
        "volume": text(made.volume_l, "L"),
        "poured": [(stock_recipe(name).name, text(float(f"{ml:.3g}"), "mL"))
                   for name, ml in poured],
        "recipes": [stock_recipe(name) for name, _ml in poured],
        "ways": [_microwaved(asked), _autoclaved(asked), _chlorinated(asked)],
        "weighed": [(name, text(float(f"{grams * 1000:.3g}"), "mg"))
                    for name, grams in made.weighed_g.items()],
    }  # fmt: skip


Way = tuple[str, tuple[str, ...], tuple[str, ...]]
"""A way to make water clean: its name, sentences, cautions."""


def _microwaved(asked: dict[str, Any]) -> Way:
    name, volume = _("Microwave, for starters only"), asked["litres"]
    if asked["power"] is None:
        return name, (_("Give the power of the oven."),), ()
    vessel = "flask" if volume < 1 else "bottle"
    try:
        found = microwave(volume, power_w=asked["power"], vessel=vessel)
    except BadInput as fault:
        return name, (str(fault),), ()
    said = _("%(minutes)s in an oven of %(power)s, in one bottle, cap loose.") % {
        "minutes": text(round(found.minutes, 1), "min"), "power": text(asked["power"], "W"),
    }  # fmt: skip
    return name, (said,), HEAT_CAUTIONS


def _autoclaved(asked: dict[str, Any]) -> Way:
    name = _("Autoclave")
    try:
        minutes = autoclave_minutes(asked["litres"])
    except BadInput as fault:
        return name, (str(fault),), ()
    said = _("%(minutes)s at 121 °C, counted from when the water is that hot.") % {
        "minutes": text(round(minutes), "min")}  # fmt: skip
    return name, (said,), HEAT_CAUTIONS[:1]


def _chlorinated(asked: dict[str, Any]) -> Way:
    name, said = _("Chlorine, overnight"), []
    if asked["bleach"] and asked["wanted"]:
        ml = bleach_ml(asked["litres"], wanted_mg_l=asked["wanted"],
                       strength_percent=asked["bleach"])  # fmt: skip
        said.append(_("%(ml)s of bleach of %(strength)s %% adds %(wanted)s of chlorine.") % {
            "ml": text(float(f"{ml:.3g}"), "mL"), "strength": text(asked["bleach"]),
            "wanted": text(asked["wanted"], "mg/L")})  # fmt: skip
    if asked["residual"] is not None and asked["product"]:
        grams = neutraliser_g(asked["litres"], asked["residual"], usual_ratio(asked["product"]))
        said.append(_("%(mg)s of thiosulfate takes out the %(residual)s measured; measure again.")
                    % {"mg": text(float(f"{1000 * grams:.3g}"), "mg"),
                       "residual": text(asked["residual"], "mg/L")})  # fmt: skip
    return name, tuple(said), CHLORINE_CAUTIONS
