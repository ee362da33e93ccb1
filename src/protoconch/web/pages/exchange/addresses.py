"""The addresses of what goes out and comes in."""

from django.urls import path

from protoconch.web.pages.exchange.bringing import bring
from protoconch.web.pages.exchange.feed import work_feed
from protoconch.web.pages.exchange.going_out import table, workbook, zipped
from protoconch.web.pages.exchange.keys import end, keys
from protoconch.web.pages.exchange.views import exchange

app_name = "exchange"
urlpatterns = [
    path("exchange", exchange, name="exchange"),
    path("exchange/keys", keys, name="keys"),
    path("exchange/keys/<int:number>/end", end, name="end"),
    path("calendar/<str:secret>.ics", work_feed, name="feed"),
    path("exchange/import", bring, name="bring"),
    path("exchange/everything.xlsx", workbook, name="workbook"),
    path("exchange/everything.zip", zipped, name="zipped"),
    path("exchange/tables/<slug:name>.csv", table, name="table"),
]
