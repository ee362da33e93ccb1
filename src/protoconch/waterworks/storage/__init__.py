"""Stored seawater: how long it lasts and when to fill."""
