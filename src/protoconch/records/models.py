"""The tables. All that counts stands in Description, Entry, Photo and Person; the rest is cache."""

import json
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils.translation import gettext_lazy as _


class AsWritten(json.JSONEncoder):
    """Keeps letters as they are, so that a search in the table finds words in any language."""

    def __init__(self, **parts: Any) -> None:
        super().__init__(**{**parts, "ensure_ascii": False})


class Role(models.TextChoices):
    """What a person may do; each role may all that the ones before it may."""

    VIEWER = "viewer", _("Viewer")
    CREW = "crew", _("Crew")
    MANAGER = "manager", _("Manager")


class Site(models.Model):
    """One hatchery with its own log and people.

    us_units: which quantities its people read and type in US units (units.preferred), by name.
    """

    name = models.CharField(max_length=120)
    zone = models.CharField(max_length=64, default="UTC")
    us_units = models.CharField(max_length=80, blank=True)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return self.name


class Description(models.Model):
    """The hatchery as described, one row for each change; the last one counts."""

    site = models.ForeignKey(Site, models.PROTECT, related_name="descriptions")
    text = models.TextField()
    made = models.DateTimeField(auto_now_add=True)
    by = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return f"{self.site} {self.made:%Y-%m-%d}"


class People(BaseUserManager["Person"]):
    """Makes and finds people."""

    def create_user(self, sign_in: str, password: str | None = None, **parts: Any) -> "Person":
        """A person who can sign in with that word."""
        person = self.model(sign_in=sign_in, **parts)
        person.set_password(password)
        person.save(using=self._db)
        return person


class Person(AbstractBaseUser):
    """Somebody of one hatchery, or the tablet of its room. name: as it stands in the log.

    pin: hash of the short number asked at the shared tablet, empty where none is asked.
    """

    site = models.ForeignKey(Site, models.PROTECT, related_name="people")
    sign_in = models.CharField(max_length=80, unique=True)
    name = models.CharField(max_length=80)
    role = models.CharField(max_length=12, choices=Role.choices, default=Role.CREW)
    language = models.CharField(max_length=12, blank=True)
    active = models.BooleanField(default=True)
    tablet = models.BooleanField(default=False)
    pin = models.CharField(max_length=128, blank=True)
    made = models.DateTimeField(auto_now_add=True)

    USERNAME_FIELD = "sign_in"
    objects = People()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["site", "name"], name="one_name_a_person")
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_active(self) -> bool:  # type: ignore[override]
        """Whether the person may sign in."""
        return self.active

    def may(self, role: str) -> bool:
        """Whether the person may do what that role may."""
        order = [str(name) for name in Role.values]
        return order.index(self.role) >= order.index(role)


class Invitation(models.Model):
    """A way in for one new person; only the code's hash is kept."""

    site = models.ForeignKey(Site, models.CASCADE)
    code_hash = models.CharField(max_length=64, unique=True)
    role = models.CharField(max_length=12, choices=Role.choices, default=Role.CREW)
    name = models.CharField(max_length=80, blank=True)
    until = models.DateTimeField()
    used = models.DateTimeField(null=True, blank=True)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"{self.role} until {self.until:%Y-%m-%d}"


class Key(models.Model):
    """A way in for a program of one person's, in that person's role; only its hash is kept.

    purpose: "api", or "calendar" for the address of the work calendar.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="keys")
    purpose = models.CharField(max_length=12)
    words = models.CharField(max_length=80, blank=True)
    secret_hash = models.CharField(max_length=64, unique=True)
    made = models.DateTimeField()
    used = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.purpose} {self.words}"


class Tries(models.Model):
    """Failed tries to prove who one is, for one account or one address; may be deleted."""

    key = models.CharField(max_length=64, unique=True)
    failed = models.PositiveIntegerField(default=0)
    last = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.failed} failed"


class Entry(models.Model):
    """One entry of the log. number: order of arrival; uuid: made where it was written.

    batch, corrects: taken from the payload for searching. unasked: as in the log's own Entry.
    """

    number = models.BigAutoField(primary_key=True)
    uuid = models.UUIDField(unique=True)
    site = models.ForeignKey(Site, models.PROTECT, related_name="entries")
    kind = models.CharField(max_length=40)
    happened = models.DateTimeField()
    arrived = models.DateTimeField()
    who = models.CharField(max_length=80)
    where = models.CharField(max_length=80, blank=True)
    task = models.CharField(max_length=300, blank=True)
    batch = models.CharField(max_length=80, blank=True)
    corrects = models.UUIDField(null=True, blank=True, db_index=True)
    payload = models.JSONField(encoder=AsWritten)
    unasked = models.BooleanField(default=False, db_default=False)

    class Meta:
        indexes: ClassVar = [
            models.Index(fields=["site", "number"], name="entry_by_arrival"),
            models.Index(fields=["site", "happened", "uuid"], name="entry_in_order"),
            models.Index(fields=["site", "kind", "happened", "uuid"], name="entry_by_kind"),
            models.Index(fields=["site", "where", "happened", "uuid"], name="entry_by_place"),
            models.Index(fields=["site", "batch", "happened", "uuid"], name="entry_by_batch"),
            models.Index(fields=["site", "who", "happened", "uuid"], name="entry_by_person"),
        ]

    def __str__(self) -> str:
        return f"{self.happened:%Y-%m-%d} {self.kind} {self.where}"


class Photo(models.Model):
    """A picture without its place data. name: SHA-256 of content."""

    site = models.ForeignKey(Site, models.PROTECT, related_name="photos")
    name = models.CharField(max_length=64)
    media_type = models.CharField(max_length=40)
    content = models.BinaryField()
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["site", "name"], name="one_photo_a_content")
        ]

    def __str__(self) -> str:
        return self.name[:12]


class Snapshot(models.Model):
    """The state at the moment `upto`, by all entries that had arrived up to `number`.

    entries: how many were folded. May be deleted at any time.
    """

    site = models.ForeignKey(Site, models.CASCADE)
    number = models.BigIntegerField()
    upto = models.DateTimeField()
    entries = models.BigIntegerField(default=0)
    description = models.BigIntegerField()
    version = models.CharField(max_length=40)
    content = models.BinaryField()
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"{self.site} up to {self.upto:%Y-%m-%d}"


class Answer(models.Model):
    """A computed answer, kept because it takes long; may be deleted at any time.

    name: "plan", "algae", ... question: hash of all that it follows from.
    """

    site = models.ForeignKey(Site, models.CASCADE)
    name = models.CharField(max_length=40)
    question = models.CharField(max_length=64)
    content = models.BinaryField()
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["site", "name", "question"], name="one_answer")
        ]

    def __str__(self) -> str:
        return f"{self.name} of {self.site}"


class WhatIf(models.Model):
    """A season looked at with something changed, kept by its name."""

    site = models.ForeignKey(Site, models.CASCADE)
    name = models.CharField(max_length=80)
    change = models.JSONField()
    answer = models.JSONField()
    by = models.CharField(max_length=80)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return self.name
