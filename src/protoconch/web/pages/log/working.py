"""How the number of a count was worked out, and what its limits rest on."""

from django.utils.translation import gettext as _

from protoconch.bench.aliquots import AliquotCount, aliquot_count
from protoconch.errors import BadInput
from protoconch.log.entry import Entry
from protoconch.log.payloads.animals import Counted
from protoconch.log.state import Sighting
from protoconch.units import text

NEARLY = 1e-9


def working_of(entry: Entry, seen: Sighting | None) -> tuple[str, ...]:
    """The working of a count by aliquots, one sentence a step; empty for anything else.

    seen: what the state holds of that entry, with the limits that count.
    """
    payload = entry.payload
    if not isinstance(payload, Counted) or not payload.aliquots or seen is None:
        return ()
    assert payload.aliquot_ml is not None  # noqa: S101 - the payload asks for both
    assert payload.litres is not None  # noqa: S101
    try:
        found = aliquot_count(
            payload.aliquots, aliquot_ml=payload.aliquot_ml, volume_l=payload.litres
        )
    except BadInput:
        return ()
    return (
        _("%(sum)s animals in %(n)s aliquots of %(ml)s are %(per_l)s.") % {
            "sum": text(sum(payload.aliquots)), "n": text(len(payload.aliquots)),
            "ml": text(payload.aliquot_ml, "mL"), "per_l": text(found.per_l, "per L"),
        },
        _("In %(litres)s of water that is %(animals)s.") % {
            "litres": text(payload.litres, "L"), "animals": text(found.animals),
        },
        _rests_on(found, seen),
    )  # fmt: skip


def _rests_on(found: AliquotCount, seen: Sighting) -> str:
    """What the limits that count rest on."""
    same = abs(found.limits.high - seen.high) <= NEARLY * max(seen.high, 1.0)
    if not same:
        return _("The limits rest on how animals clumped in many counts here (negative binomial).")
    if found.rests_on == "spread":
        return _(
            "The aliquots differ by more than chance, so the limits rest on their own spread"
            " (Student's t)."
        )
    return _("The limits are those of a count of animals spread at random (Garwood 1936).")
