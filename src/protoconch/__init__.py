"""Protoconch: plan and run the season of a small seawater hatchery that raises marine snails."""

__version__ = "0.1.0"
