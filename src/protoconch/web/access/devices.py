"""The phones and computers on which somebody is signed in, as their sessions tell."""

import re
from datetime import datetime, timedelta
from typing import NamedTuple

from django.contrib.auth import BACKEND_SESSION_KEY, SESSION_KEY, login
from django.contrib.sessions.models import Session
from django.http import HttpRequest
from django.utils import timezone

from protoconch.records.models import Person

BACKEND = "django.contrib.auth.backends.ModelBackend"
SEEN_AGAIN_AFTER = timedelta(hours=12)
MACHINES = (
    ("iPhone", "iPhone"), ("iPad", "iPad"), ("Android", "Android"), ("Windows", "Windows"),
    ("Mac OS X", "Mac"), ("CrOS", "Chromebook"), ("Linux", "Linux"),
)  # fmt: skip
BROWSERS = (("Edg", "Edge"), ("OPR", "Opera"), ("Firefox", "Firefox"), ("FxiOS", "Firefox"),
            ("Chrom", "Chrome"), ("CriOS", "Chrome"), ("Safari", "Safari"))  # fmt: skip


class Device(NamedTuple):
    """One browser that is signed in. key: of its session. here: it is the one that asks."""

    key: str
    words: str
    since: datetime
    seen: datetime
    here: bool


def sign_in_here(request: HttpRequest, person: Person, *, known: bool) -> None:
    """Sign the person in on this browser: for 180 days if it is known, else until it closes."""
    login(request, person, backend=BACKEND)
    now = timezone.now().isoformat()
    agent = request.headers.get("User-Agent", "")
    request.session["device"] = {"words": device_words(agent), "since": now, "seen": now}
    if not known:
        request.session.set_expiry(0)


def see_device(request: HttpRequest) -> None:
    """Note, twice a day at most, that the browser was here; this also renews its 180 days."""
    device = request.session.get("device")
    now = timezone.now()
    if device and now - datetime.fromisoformat(device["seen"]) > SEEN_AGAIN_AFTER:
        request.session["device"] = device | {"seen": now.isoformat()}


def devices_of(person: Person, here: str = "") -> list[Device]:
    """Where the person is signed in, the latest first. here: key of the session that asks."""
    found = []
    for session in Session.objects.filter(expire_date__gt=timezone.now()):
        said = session.get_decoded()
        if said.get(SESSION_KEY) == str(person.pk) and BACKEND_SESSION_KEY in said:
            device = said.get("device") or {}
            since = datetime.fromisoformat(device["since"]) if device else person.made
            seen = datetime.fromisoformat(device["seen"]) if device else since
            key = session.session_key
            found.append(Device(key, device.get("words", ""), since, seen, key == here))
    return sorted(found, key=lambda device: device.seen, reverse=True)


def end_devices(person: Person, keys: list[str]) -> int:
    """Sign the person out on those browsers; other people's are left alone. Returns: how many."""
    own = {device.key for device in devices_of(person)} & set(keys)
    Session.objects.filter(session_key__in=own).delete()
    return len(own)


def device_words(agent: str) -> str:
    """A browser as people call it: "Firefox · Android", empty where it does not tell."""
    machine = next((word for sign, word in MACHINES if sign in agent), "")
    browser = next((word for sign, word in BROWSERS if re.search(rf"\b{sign}", agent)), "")
    return " · ".join(filter(None, (browser, machine)))
