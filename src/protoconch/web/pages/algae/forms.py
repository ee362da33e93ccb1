"""The medium bench's form."""

from django import forms
from django.utils.translation import gettext_lazy as _

from protoconch.algae.medium import known_media
from protoconch.web.shell.fields import Measure

SILICATE = (("", _("as the medium has it")), ("0", _("none")), ("1", _("as in f/2")),
            ("2", _("doubled, as for Chaetoceros")))  # fmt: skip
PRODUCTS = (("thiosulfate-pentahydrate", _("crystals (pentahydrate)")),
            ("thiosulfate-anhydrous", _("dry powder (anhydrous)")))  # fmt: skip


class BenchForm(forms.Form):
    """How much of which medium, and how the water is made clean."""

    use_required_attribute = False
    medium = forms.ChoiceField(label=_("Medium"), choices=[(n, n) for n in known_media()])
    litres = Measure("L", 0.001, 20_000, label=_("Volume"))
    silicate = forms.ChoiceField(label=_("Silicate"), choices=SILICATE, required=False)
    power = Measure("W", 100, 3000, label=_("Power of the microwave oven, measured"),
                    required=False)  # fmt: skip
    bleach = Measure("1", 1, 20, label=_("Strength of the bleach, % w/v"), required=False)
    wanted = Measure("mg/L", 0.1, 50, label=_("Chlorine to add"), required=False)
    residual = Measure("mg/L", 0, 50, label=_("Chlorine measured before neutralising"),
                       required=False)  # fmt: skip
    product = forms.ChoiceField(label=_("Thiosulfate"), choices=PRODUCTS, required=False)
