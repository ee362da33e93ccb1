"""Entries taken in from what a phone, a form, a table or a store of entries holds, and back."""

from protoconch.log.reading.entries import read_entry, stored, written
from protoconch.log.reading.payloads import read_payload

__all__ = ["read_entry", "read_payload", "stored", "written"]
