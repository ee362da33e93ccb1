"""The addresses of paper, and of the places that labels lead to."""

from django.urls import path, register_converter

from protoconch.web.pages.paper.blank_view import blank_sheet
from protoconch.web.pages.paper.card import card
from protoconch.web.pages.paper.day_sheet import sheet
from protoconch.web.pages.paper.labels import labels
from protoconch.web.pages.paper.place import batch, place
from protoconch.web.pages.paper.typing_in import typed, typed_blank
from protoconch.web.pages.paper.views import paper
from protoconch.web.pages.paper.week_sheet import week
from protoconch.web.pages.today.days import DayConverter

register_converter(DayConverter, "day_on_paper")

app_name = "paper"
urlpatterns = [
    path("paper", paper, name="paper"),
    path("paper/labels.pdf", labels, name="labels"),
    path("paper/<day_on_paper:on>/typed", typed, name="typed"),
    path("paper/<day_on_paper:on>/week.pdf", week, name="week"),
    path("paper/blank/<slug:slug>.pdf", blank_sheet, name="blank"),
    path("paper/blank/<slug:slug>/typed", typed_blank, name="typed-blank"),
    path("paper/batches/<str:code>/card.pdf", card, name="card"),
    path("today/<day_on_paper:on>/sheet.pdf", sheet, name="sheet"),
    path("at/batch/<str:code>", batch, name="batch"),
    path("at/<str:slug>", place, name="place"),
]
