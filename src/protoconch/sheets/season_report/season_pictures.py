"""The pictures of the season: drawn for a desk and for a phone, one of them shown."""

from datetime import date

from protoconch.pictures.ribbons import season_ribbons
from protoconch.pictures.ribbons_phone import phone_key, phone_ribbons, phone_room
from protoconch.season.answer import SeasonPlan
from protoconch.sheets.look import Html, figure, folded, paragraph, section, tag
from protoconch.words import say


def season_card(plan: SeasonPlan, printed: date) -> Html:
    """All batches and the room on one time axis."""
    if not plan.batches:
        empty = paragraph(say("No batch is planned, so there is nothing to draw."))
        return section(say("The season"), empty, id_="season")
    return section(
        say("The season"),
        tag("div", figure(season_ribbons(plan, printed)), class_="desk"),
        tag("div", *_phone(plan, printed), class_="phone"),
        id_="season",
    )


def _phone(plan: SeasonPlan, printed: date) -> list[Html]:
    first, *others = phone_ribbons(plan, printed)
    parts = [Html(phone_key(plan).svg), figure(first)]
    parts += [folded(_summary(other.title), figure(other)) for other in others]
    parts.append(
        folded(say("The room: tanks, algae, floor, work"), figure(phone_room(plan, printed)))
    )
    return parts


def _summary(title: str) -> str:
    return str(title).split(":", maxsplit=1)[0]
