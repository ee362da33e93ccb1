"""The addresses of Algae."""

from django.urls import path

from protoconch.web.pages.algae.bench import bench
from protoconch.web.pages.algae.views import algae, culture

app_name = "algae"
urlpatterns = [
    path("algae", algae, name="algae"),
    path("algae/bench", bench, name="bench"),
    path("algae/vessels/<str:vessel>", culture, name="culture"),
]
