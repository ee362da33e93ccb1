"""What each field of a payload is called by the crew, and the unit it is in."""

from dataclasses import dataclass

from protoconch.words import phrase


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
    "note": Field(phrase("note")),
    "mass": Field(phrase("label of the egg mass")),
    "site": Field(phrase("site")),
    "depth_m": Field(phrase("depth"), "m"),
    "temperature_c": Field(phrase("water temperature"), "°C"),
    "share_taken": Field(phrase("share taken"), "1"),
    "strand_m": Field(phrase("length of strand"), "m"),
    "eggs": Field(phrase("number of eggs"), "1"),
    "permit": Field(phrase("permit")),
    "batch": Field(phrase("batch")),
    "masses": Field(phrase("list of egg masses")),
    "veligers": Field(phrase("number of veligers"), "1"),
    "animals": Field(phrase("number of animals"), "1"),
    "litres": Field(phrase("water"), "L"),
    "aliquots": Field(phrase("count of each aliquot"), "1"),
    "dead": Field(phrase("count of the dead in each aliquot"), "1"),
    "aliquot_ml": Field(phrase("volume of an aliquot"), "mL"),
    "lengths_mm": Field(phrase("shell lengths"), "mm"),
    "mean_mm": Field(phrase("mean shell length"), "mm"),
    "sd_mm": Field(phrase("spread of shell length"), "mm"),
    "looked_at": Field(phrase("number of larvae looked at"), "1"),
    "competent": Field(phrase("number of competent larvae"), "1"),
    "kept": Field(phrase("number kept"), "1"),
    "removed": Field(phrase("number taken out"), "1"),
    "to": Field(phrase("vessel they went to")),
    "offered": Field(phrase("number of larvae offered"), "1"),
    "classes": Field(phrase("list of size classes")),
    "from_mm": Field(phrase("shell length from"), "mm"),
    "to_mm": Field(phrase("shell length up to"), "mm"),
    "grams": Field(phrase("mass"), "g"),
    "cause": Field(phrase("cause")),
    "purpose": Field(phrase("purpose")),
    "share": Field(phrase("share of the water"), "1"),
    "sieve_um": Field(phrase("mesh of the sieve"), "um"),
    "foods": Field(phrase("list of foods")),
    "food": Field(phrase("food")),
    "culture": Field(phrase("culture it was drawn from")),
    "cells_per_ml": Field(phrase("cell density"), "cells/mL"),
    "left": Field(phrase("share of the last food still there"), "1"),
    "with_what": Field(phrase("what it was cleaned with")),
    "work": Field(phrase("kind of work")),
    "skipped": Field(phrase("mark that it was skipped")),
    "amount": Field(phrase("amount"), "1"),
    "species": Field(phrase("species")),
    "inoculum_l": Field(phrase("inoculum"), "L"),
    "source": Field(phrase("source")),
    "medium": Field(phrase("medium")),
    "refilled_l": Field(phrase("fresh medium added"), "L"),
    "chamber": Field(phrase("counting chamber")),
    "loadings": Field(phrase("count of each loading"), "1"),
    "squares": Field(phrase("number of squares counted in each loading"), "1"),
    "dilution": Field(phrase("dilution"), "1"),
    "colour": Field(phrase("colour")),
    "found": Field(phrase("what was found in the culture")),
    "reason": Field(phrase("reason")),
    "sterilised_by": Field(phrase("way of sterilising")),
    "minutes": Field(phrase("time"), "min"),
    "quantity": Field(phrase("quantity that was read")),
    "value": Field(phrase("value that was read"), "1"),
    "instrument": Field(phrase("instrument")),
    "rating_um": Field(phrase("rating of the cartridge"), "um"),
    "reused": Field(phrase("mark that it was used before")),
    "hours_of_old": Field(phrase("hours of the old lamp"), "h"),
    "item": Field(phrase("item")),
    "unit": Field(phrase("unit")),
    "expires": Field(phrase("expiry date")),
    "lot": Field(phrase("lot")),
    "cost": Field(phrase("cost"), "1"),
    "text": Field(phrase("text")),
    "photo": Field(phrase("picture")),
    "caption": Field(phrase("caption")),
    "of": Field(phrase("entry it points at")),
    "withdraw": Field(phrase("mark that it is taken back")),
    "happened": Field(phrase("time it happened")),
    "where": Field(phrase("place")),
    "payload": Field(phrase("corrected content")),
    "why": Field(phrase("reason")),
    "stands": Field(phrase("mark that it stands")),
    "by_whom": Field(phrase("person who confirmed it")),
}
"""By the name of the field; a name means the same in every kind."""

OF_KIND: dict[tuple[str, str], Field] = {
    ("harvested", "litres"): Field(phrase("culture drawn"), "L"),
    ("inoculated", "litres"): Field(phrase("volume of the culture"), "L"),
    ("inoculated", "source"): Field(phrase("vessel of the inoculum")),
    ("medium made", "litres"): Field(phrase("medium"), "L"),
    ("pumped", "litres"): Field(phrase("seawater pumped"), "L"),
    ("pumped", "source"): Field(phrase("place it came from")),
    ("drawn", "litres"): Field(phrase("seawater drawn"), "L"),
    ("lost", "animals"): Field(phrase("number lost"), "1"),
    ("released", "animals"): Field(phrase("number released"), "1"),
    ("settled", "animals"): Field(phrase("number settled"), "1"),
    ("stocked", "animals"): Field(phrase("number of larvae"), "1"),
    ("done", "amount"): Field(phrase("amount")),
    ("weighed", "grams"): Field(phrase("mass of them all"), "g"),
    ("fed", "litres"): Field(phrase("culture fed"), "L"),
    ("fed", "grams"): Field(phrase("food"), "g"),
}
"""Where a kind has a more exact word."""

ONE_OF = {"aliquots": phrase("aliquot"), "dead": phrase("dead in aliquot"),
          "lengths_mm": phrase("shell length"), "foods": phrase("food"),
          "classes": phrase("size class"), "loadings": phrase("loading"),
          "masses": phrase("egg mass"), "to": phrase("vessel")}  # fmt: skip
"""What one member of a list is called, before its number."""

CHOICES = (
    phrase("feed"), phrase("inoculum"), phrase("flocculate"), phrase("film"),
    phrase("bacteria"), phrase("other algae"), phrase("ciliates"), phrase("rotifers"),
    phrase("unknown"), phrase("used up"), phrase("too old"), phrase("crashed"),
    phrase("contaminated"), phrase("not needed"), phrase("heat"), phrase("chlorine"),
    phrase("filter and UV"), phrase("release"), phrase("handed over"), phrase("kept as parents"),
    phrase("research"),
)  # fmt: skip
"""The words between which a field lets one choose: kept in entries as they stand here."""


def field_of(kind: str, name: str) -> Field:
    """The field of that name in entries of that kind; the bare name where nobody gave it words."""
    found = OF_KIND.get((kind, name)) or FIELDS.get(name)
    return found or Field(name.replace("_", " "))
