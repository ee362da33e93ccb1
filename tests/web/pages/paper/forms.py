"""The fields of a page's form, as a browser would send them."""

from html.parser import HTMLParser


class _Fields(HTMLParser):
    def __init__(self):
        super().__init__()
        self.inside, self.sent, self.select, self.chosen = False, {}, "", False

    def handle_starttag(self, tag, attrs):
        own = dict(attrs)
        if tag == "form":
            self.inside = own.get("method") == "post" and "sheet" in own.get("class", "")
        if not self.inside:
            return
        if tag == "input" and own.get("name"):
            ticked = own.get("type") in ("radio", "checkbox") and "checked" not in own
            if not ticked:
                self.sent[own["name"]] = own.get("value", "")
        elif tag == "select":
            self.select, self.chosen = own["name"], False
        elif tag == "option" and self.select:
            self.option = own
            if "value" in own:
                self._choose(own["value"])

    def handle_data(self, data):
        if self.inside and self.select and "value" not in getattr(self, "option", {"value": ""}):
            self._choose(data)

    def _choose(self, value):
        if self.select not in self.sent or ("selected" in self.option and not self.chosen):
            self.sent[self.select] = value
            self.chosen = "selected" in self.option

    def handle_endtag(self, tag):
        if tag == "form":
            self.inside = False
        if tag == "select":
            self.select = ""


def fields_of(page):
    """The names and values of the form of a sheet on a page."""
    reading = _Fields()
    reading.feed(page)
    return reading.sent
