"""The addresses of Today."""

from django.urls import path

from protoconch.web.pages.today.views import day

app_name = "today"
urlpatterns = [path("", day, name="day")]
