"""The addresses of Water."""

from django.urls import path

from protoconch.web.pages.water.views import water

app_name = "water"
urlpatterns = [path("water", water, name="water")]
