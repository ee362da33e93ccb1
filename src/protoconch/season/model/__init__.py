"""The stage model: what becomes of a season in each of many futures."""
