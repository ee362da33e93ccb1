"""A how-to card on half a sheet, to hang beside the tank."""

from dataclasses import asdict

from protoconch.sheets.how_to_card import ShownCard
from protoconch.sheets.paper.press import code, pressed
from protoconch.words import say


def how_to_pdf(
    card: ShownCard, site: str, address: str, language: str = "en", paper: str = "letter"
) -> bytes:
    """A card as PDF, on half a letter sheet or, with paper "a4", on A5.

    card: drawn in black on white. site: whose hatchery. address: of the card, told by its code.
    """
    words = {
        "language": language,
        "site": site,
        "care": say("Care first"),
        "numbers_head": say("Numbers"),
        "record_head": say("At the end"),
        "scan": say("Scan to enter it"),
        "code": code(address),
        "address": address,
        **asdict(card),
    }
    return pressed("how_to", words, paper=paper)
