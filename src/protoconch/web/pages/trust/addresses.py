"""The addresses of Trust."""

from django.urls import path

from protoconch.web.pages.trust.views import certificate, trust

app_name = "trust"
urlpatterns = [
    path("trust/", trust, name="trust"),
    path("trust/protoconch.crt", certificate, name="certificate"),
]
