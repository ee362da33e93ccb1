"""The addresses of the first start."""

from django.urls import path

from protoconch.web.pages.welcome import views

app_name = "welcome"
urlpatterns = [
    path("welcome/", views.start, name="start"),
    path("welcome/<slug:key>/", views.question, name="question"),
]
