"""The addresses of the Log."""

from django.urls import path

from protoconch.web.pages.log.adding import add, kinds
from protoconch.web.pages.log.putting_right import correct, settle, take_back
from protoconch.web.pages.log.sending import send
from protoconch.web.pages.log.views import entries, entry

app_name = "log"
urlpatterns = [
    path("log", entries, name="entries"),
    path("log/entries", send, name="send"),
    path("log/add", kinds, name="kinds"),
    path("log/add/<slug:slug>", add, name="add"),
    path("log/<uuid:uuid>", entry, name="entry"),
    path("log/<uuid:uuid>/correct", correct, name="correct"),
    path("log/<uuid:uuid>/take-back", take_back, name="take-back"),
    path("log/<uuid:uuid>/settle", settle, name="settle"),
]
