"""The addresses of what goes out and comes in."""

from django.urls import path

from protoconch.web.pages.exchange.bringing import bring
from protoconch.web.pages.exchange.views import exchange

app_name = "exchange"
urlpatterns = [
    path("exchange", exchange, name="exchange"),
    path("exchange/import", bring, name="bring"),
]
