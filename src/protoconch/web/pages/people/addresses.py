"""The addresses of People."""

from django.urls import path

from protoconch.web.pages.people import coming, managing, own

app_name = "people"
urlpatterns = [
    path("sign-in/", coming.sign_in, name="sign-in"),
    path("sign-out/", coming.sign_out, name="sign-out"),
    path("join/", coming.join, name="join"),
    path("new-password/<int:number>/<str:token>/", coming.renew, name="renew"),
    path("language/", coming.language, name="language"),
    path("me/", own.me, name="me"),
    path("me/password/", own.password, name="password"),
    path("me/tablet-number/", own.tablet_number, name="tablet-number"),
    path("me/devices/end/", own.end_device, name="end-device"),
    path("people/", managing.people, name="people"),
    path("people/invite/", managing.invite, name="invite"),
    path("people/invitations/<int:number>/withdraw/", managing.withdraw, name="withdraw"),
    path("people/tablet/", managing.tablet, name="tablet"),
    path("people/<int:number>/", managing.person, name="person"),
    path("people/<int:number>/way-in/", managing.way_in, name="way-in"),
    path("people/<int:number>/new-password/", managing.new_password, name="new-password"),
    path("people/<int:number>/devices/end/", managing.end_devices, name="end-devices"),
]
