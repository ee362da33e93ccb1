"""The addresses of Today."""

from django.urls import path, register_converter

from protoconch.web.pages.today.days import DayConverter
from protoconch.web.pages.today.settling import settle
from protoconch.web.pages.today.views import day, ways_of_day

register_converter(DayConverter, "day_of_work")

app_name = "today"
urlpatterns = [
    path("", day, name="day"),
    path("today/<day_of_work:on>", day, name="on"),
    path("today/<day_of_work:on>/ways", ways_of_day, name="ways"),
    path("today/<day_of_work:on>/ways/<slug:line>", ways_of_day, name="ways-of-line"),
    path("today/<day_of_work:on>/settle", settle, name="settle"),
]
