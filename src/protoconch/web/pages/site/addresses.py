"""The addresses of Site."""

from django.urls import path

from protoconch.web.pages.site import editing, learning, text, units, views

app_name = "site"
urlpatterns = [
    path("site/", views.site, name="site"),
    path("site/water-system/", views.water_system, name="water-system"),
    path("site/change/<slug:key>/", editing.change, name="change"),
    path("site/own-values/", editing.own_values, name="own-values"),
    path("site/learned/", learning.learned, name="learned"),
    path("site/learned/use/", learning.use, name="learned-use"),
    path("site/learned/leave/", learning.leave, name="learned-leave"),
    path("site/learned/again/", learning.again, name="learned-again"),
    path("site/learned/back/", learning.back, name="learned-back"),
    path("site/waterworks/", text.waterworks, name="waterworks"),
    path("site/units/", units.choose, name="units"),
    path("site/text/", text.whole, name="text"),
    path("site/hatchery.toml", text.download, name="download"),
    path("site/history/", views.history, name="history"),
    path("site/history/<int:number>/", views.earlier, name="earlier"),
    path("site/history/<int:number>/back/", views.back_to, name="back-to"),
]
