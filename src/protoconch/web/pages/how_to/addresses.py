"""The addresses of the how-to cards."""

from django.urls import path

from protoconch.web.pages.how_to.views import card, cards, on_paper

app_name = "how_to"
urlpatterns = [
    path("how-to", cards, name="cards"),
    path("how-to/<slug:slug>", card, name="card"),
    path("how-to/<slug:slug>/card.pdf", on_paper, name="paper"),
]
