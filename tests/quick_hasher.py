"""Argon2 as the program uses it, at the least cost it allows: the tests make many people."""

from django.contrib.auth.hashers import Argon2PasswordHasher


class QuickArgon2(Argon2PasswordHasher):
    """The same hash by a thousandth of the work; for passwords that everybody knows."""

    time_cost = 1
    memory_cost = 8
    parallelism = 1
