"""The addresses of what waits on a phone."""

from django.urls import path

from protoconch.web.pages.carried.installed import manifest, worker
from protoconch.web.pages.carried.views import clock, take, waiting

app_name = "carried"
urlpatterns = [
    path("carried/", waiting, name="waiting"),
    path("carried/clock", clock, name="clock"),
    path("carried/take", take, name="take"),
    path("worker.js", worker, name="worker"),
    path("app.webmanifest", manifest, name="manifest"),
]
