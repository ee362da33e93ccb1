"""Tables in and out: imports of entries and readings, exports of everything."""
