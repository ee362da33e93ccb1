"""The months under a small picture, each named where there is room."""

from protoconch.pictures.drawing import line
from protoconch.pictures.lettering import Label, Lettering, room_for
from protoconch.pictures.scales import TimeScale
from protoconch.pictures.words import month_short


def months_under(time: TimeScale, y: float, width: float, letters: Lettering) -> list[str]:
    """Ticks of the months at y [px], with their words and the year below; width: of the picture."""
    parts, beyond = [], 0.0
    for month in time.months():
        x = time.at(month)
        parts.append(line((x, y), (x, y + 5), "base"))
        word = month_short(month)
        if x >= beyond and x + room_for(word, "small") <= width:
            letters.add(Label(word, x, y + 20, "small"))
            beyond = x + room_for(word, "small") + 8
            if month.month == 1 or month == time.months()[0]:
                letters.fit([Label(str(month.year), x, y + 36, "small")])
    return parts
