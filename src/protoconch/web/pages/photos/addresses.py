"""The addresses of photos."""

from django.urls import path

from protoconch.web.pages.photos.views import add, shown

app_name = "photos"
urlpatterns = [
    path("photos/of/<uuid:uuid>", add, name="add"),
    path("photos/<slug:name>.jpg", shown, name="shown"),
]
