"""Recirculating loops: size, course over time, ripeness."""
