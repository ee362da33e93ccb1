"""The addresses of Batches."""

from django.urls import path

from protoconch.web.pages.batches.views import batch, batches

app_name = "batches"
urlpatterns = [
    path("batches", batches, name="batches"),
    path("batches/<str:code>", batch, name="batch"),
]
