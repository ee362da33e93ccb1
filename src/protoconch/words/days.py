"""Days and times in words."""

from datetime import date, datetime, time

from protoconch.words.said import Said, phrase, say

FORMS = (
    phrase("%d %B %Y"), phrase("%d %B"), phrase("%d %b"), phrase("%d %b %Y"), phrase("%B %Y"),
    phrase("%b %Y"), phrase("%a %d %b"), phrase("%A %d %B"), phrase("%A %d %B %Y"),
    phrase("%d %B %Y, %H:%M"), phrase("%d %B, %H:%M"), phrase("%d %b, %H:%M"),
    phrase("%a %d %b %Y"), phrase("%A, %d %B %Y"), phrase("%-d %B %Y"), phrase("%-d %B"),
    phrase("%-d %b"), phrase("%-d %b %Y"), phrase("%a %-d %b"), phrase("%A %-d %B"),
    phrase("%A %-d %B %Y"), phrase("%-d %B, %H:%M"), phrase("%-d %B %Y, %H:%M"),
)  # fmt: skip
"""The forms of a day that a translator puts in the order of the language."""

NAMES = (
    phrase("January."), phrase("February."), phrase("March."), phrase("April."), phrase("May."),
    phrase("June."), phrase("July."), phrase("August."), phrase("September."),
    phrase("October."), phrase("November."), phrase("December."),
    phrase("Jan"), phrase("Feb"), phrase("Mar"), phrase("Apr"), phrase("May"), phrase("Jun"),
    phrase("Jul"), phrase("Aug"), phrase("Sep"), phrase("Oct"), phrase("Nov"), phrase("Dec"),
    phrase("Monday"), phrase("Tuesday"), phrase("Wednesday"), phrase("Thursday"),
    phrase("Friday"), phrase("Saturday"), phrase("Sunday"),
    phrase("Mon"), phrase("Tue"), phrase("Wed"), phrase("Thu"), phrase("Fri"), phrase("Sat"),
    phrase("Sun"),
)  # fmt: skip
"""The names in them. A long month has a full stop here, as May is long and short at once."""

MARKS = phrase("1,234.5")
"""How a number is written: a translator writes this one with the marks of the language."""


def day_text(moment: date | datetime | time, form: str = "%d %B %Y") -> Said:
    """A day or time in words; the form is one of strftime, of FORMS where it has names in it."""
    template = "{moment:" + form + "}"
    return say(template, moment=moment)
