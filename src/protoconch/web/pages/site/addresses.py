"""The addresses of Site."""

from django.urls import path

from protoconch.web.pages.site import editing, text, units, views

app_name = "site"
urlpatterns = [
    path("site/", views.site, name="site"),
    path("site/water-system/", views.water_system, name="water-system"),
    path("site/change/<slug:key>/", editing.change, name="change"),
    path("site/own-values/", editing.own_values, name="own-values"),
    path("site/waterworks/", text.waterworks, name="waterworks"),
    path("site/units/", units.choose, name="units"),
    path("site/text/", text.whole, name="text"),
    path("site/hatchery.toml", text.download, name="download"),
    path("site/history/", views.history, name="history"),
    path("site/history/<int:number>/", views.earlier, name="earlier"),
    path("site/history/<int:number>/back/", views.back_to, name="back-to"),
]
