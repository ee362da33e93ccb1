"""The addresses of Reports."""

from django.urls import path

from protoconch.web.pages.reports.views import account, calendar, numbers, report, reports, whole

app_name = "reports"
urlpatterns = [
    path("reports", reports, name="reports"),
    path("reports/season", report, name="season"),
    path("reports/season.html", whole, name="whole"),
    path("reports/work", calendar, name="calendar"),
    path("reports/account", account, name="account"),
    path("reports/numbers", numbers, name="numbers"),
]
