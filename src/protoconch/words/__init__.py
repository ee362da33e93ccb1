"""Texts for people that can be said again in another language and in other units.

A text of the program is English until it meets a reader: `say("{tank} is empty.", tank=name)` is
a string that knows its template and its values, and `str()` of it is what the reader of now reads.
So the core knows no language, answers are kept with their sentences, and each person reads them in
their own words.
"""

from protoconch.words.days import FORMS, day_text
from protoconch.words.joining import begun, joined, listed
from protoconch.words.keeping import from_plain, to_plain
from protoconch.words.reader import ENGLISH, Reader, read_by, reader_now
from protoconch.words.said import Amount, Said, Spoken, counted, english, phrase, say

__all__ = [
    "ENGLISH", "FORMS", "Amount", "Reader", "Said", "Spoken", "begun", "counted", "day_text",
    "english", "from_plain", "joined", "listed", "phrase", "read_by", "reader_now", "say",
    "to_plain",
]  # fmt: skip
