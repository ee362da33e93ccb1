"""What each field of a payload is called by the crew, and the unit it is in."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Field:
    """One field. words: its name. unit: of a number, "1" for a plain number, "" for no number."""

    words: str
    unit: str = ""

    @property
    def is_number(self) -> bool:
        """True where it holds a number or a list of numbers."""
        return self.unit != ""

    @property
    def shown_unit(self) -> str:
        """The unit as a page shows it, empty for a plain number."""
        return "" if self.unit == "1" else self.unit


FIELDS: dict[str, Field] = {
    "note": Field("note"),
    "mass": Field("label of the egg mass"),
    "site": Field("site"),
    "depth_m": Field("depth", "m"),
    "temperature_c": Field("water temperature", "°C"),
    "share_taken": Field("share taken", "1"),
    "strand_m": Field("length of strand", "m"),
    "eggs": Field("number of eggs", "1"),
    "permit": Field("permit"),
    "batch": Field("batch"),
    "masses": Field("list of egg masses"),
    "veligers": Field("number of veligers", "1"),
    "animals": Field("number of animals", "1"),
    "litres": Field("water", "L"),
    "aliquots": Field("count of each aliquot", "1"),
    "dead": Field("count of the dead in each aliquot", "1"),
    "aliquot_ml": Field("volume of an aliquot", "mL"),
    "lengths_mm": Field("shell lengths", "mm"),
    "mean_mm": Field("mean shell length", "mm"),
    "sd_mm": Field("spread of shell length", "mm"),
    "looked_at": Field("number of larvae looked at", "1"),
    "competent": Field("number of competent larvae", "1"),
    "kept": Field("number kept", "1"),
    "removed": Field("number taken out", "1"),
    "to": Field("vessel they went to"),
    "offered": Field("number of larvae offered", "1"),
    "classes": Field("list of size classes"),
    "from_mm": Field("shell length from", "mm"),
    "to_mm": Field("shell length up to", "mm"),
    "grams": Field("mass", "g"),
    "cause": Field("cause"),
    "purpose": Field("purpose"),
    "share": Field("share of the water", "1"),
    "sieve_um": Field("mesh of the sieve", "um"),
    "foods": Field("list of foods"),
    "food": Field("food"),
    "culture": Field("culture it was drawn from"),
    "cells_per_ml": Field("cell density", "cells/mL"),
    "left": Field("share of the last food still there", "1"),
    "with_what": Field("what it was cleaned with"),
    "work": Field("kind of work"),
    "skipped": Field("mark that it was skipped"),
    "amount": Field("amount", "1"),
    "species": Field("species"),
    "inoculum_l": Field("inoculum", "L"),
    "source": Field("source"),
    "medium": Field("medium"),
    "refilled_l": Field("fresh medium added", "L"),
    "chamber": Field("counting chamber"),
    "loadings": Field("count of each loading", "1"),
    "squares": Field("number of squares counted in each loading", "1"),
    "dilution": Field("dilution", "1"),
    "colour": Field("colour"),
    "found": Field("what was found in the culture"),
    "reason": Field("reason"),
    "sterilised_by": Field("way of sterilising"),
    "minutes": Field("time", "min"),
    "quantity": Field("quantity that was read"),
    "value": Field("value that was read", "1"),
    "instrument": Field("instrument"),
    "rating_um": Field("rating of the cartridge", "um"),
    "reused": Field("mark that it was used before"),
    "hours_of_old": Field("hours of the old lamp", "h"),
    "item": Field("item"),
    "unit": Field("unit"),
    "expires": Field("expiry date"),
    "lot": Field("lot"),
    "cost": Field("cost", "1"),
    "text": Field("text"),
    "photo": Field("picture"),
    "caption": Field("caption"),
    "of": Field("entry it points at"),
    "withdraw": Field("mark that it is taken back"),
    "happened": Field("time it happened"),
    "where": Field("place"),
    "payload": Field("corrected content"),
    "why": Field("reason"),
    "stands": Field("mark that it stands"),
    "by_whom": Field("person who confirmed it"),
}
"""By the name of the field; a name means the same in every kind."""

OF_KIND: dict[tuple[str, str], Field] = {
    ("harvested", "litres"): Field("culture drawn", "L"),
    ("inoculated", "litres"): Field("volume of the culture", "L"),
    ("inoculated", "source"): Field("vessel of the inoculum"),
    ("medium made", "litres"): Field("medium", "L"),
    ("pumped", "litres"): Field("seawater pumped", "L"),
    ("pumped", "source"): Field("place it came from"),
    ("drawn", "litres"): Field("seawater drawn", "L"),
    ("lost", "animals"): Field("number lost", "1"),
    ("released", "animals"): Field("number released", "1"),
    ("settled", "animals"): Field("number settled", "1"),
    ("stocked", "animals"): Field("number of larvae", "1"),
    ("done", "amount"): Field("amount"),
    ("weighed", "grams"): Field("mass of them all", "g"),
    ("fed", "litres"): Field("culture fed", "L"),
    ("fed", "grams"): Field("food", "g"),
}
"""Where a kind has a more exact word."""

ONE_OF = {"aliquots": "aliquot", "dead": "dead in aliquot", "lengths_mm": "shell length",
          "foods": "food", "classes": "size class", "loadings": "loading",
          "masses": "egg mass", "to": "vessel"}  # fmt: skip
"""What one member of a list is called, before its number."""


def field_of(kind: str, name: str) -> Field:
    """The field of that name in entries of that kind; the bare name where nobody gave it words."""
    found = OF_KIND.get((kind, name)) or FIELDS.get(name)
    return found or Field(name.replace("_", " "))
