"""Widgets that write their markup themselves: a page of a hundred fields must come at once.

They give what Django's own templates give for them; a test holds the two together.
"""

from typing import Any

from django import forms
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString


class Typed(forms.TextInput):
    """A line to type in."""

    def render(
        self,
        name: str,
        value: Any,
        attrs: dict[str, Any] | None = None,
        renderer: Any = None,  # noqa: ARG002
    ) -> SafeString:
        """The input as markup."""
        said = {**self.attrs, **(attrs or {})}
        typed = self.format_value(value)
        held = "" if typed is None else format_html(' value="{}"', typed)
        return format_html('<input type="text" name="{}"{}{}>', name, held, flatatt(said))


class Chosen(forms.Select):
    """One of a few words."""

    def render(
        self,
        name: str,
        value: Any,
        attrs: dict[str, Any] | None = None,
        renderer: Any = None,  # noqa: ARG002
    ) -> SafeString:
        """The select with its options as markup."""
        said = {**self.attrs, **(attrs or {})}
        now = str(value) if value is not None else ""
        options = format_html_join(
            "", '<option value="{}"{}>{}</option>',
            ((own, SELECTED if str(own) == now else "", words) for own, words in self.choices),
        )  # fmt: skip
        return format_html('<select name="{}"{}>{}</select>', name, flatatt(said), options)


SELECTED = SafeString(" selected")
