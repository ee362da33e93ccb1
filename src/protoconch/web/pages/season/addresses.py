"""The addresses of Season."""

from django.urls import path

from protoconch.web.pages.season.looking import compare, drop, keep, what_if
from protoconch.web.pages.season.views import plan_now, ribbons, season

app_name = "season"
urlpatterns = [
    path("season", season, name="season"),
    path("season/plan", plan_now, name="plan"),
    path("season/ribbons-<slug:version>.svg", ribbons, name="ribbons"),
    path("season/what-if", what_if, name="what-if"),
    path("season/what-if/keep", keep, name="keep"),
    path("season/what-if/<int:number>/drop", drop, name="drop"),
    path("season/what-if/compare", compare, name="compare"),
]
