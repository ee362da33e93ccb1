"""Words and numbers as pages show them, for the templates."""

from django import template
from django.utils.safestring import SafeString, mark_safe

from protoconch.units import text

register = template.Library()


@register.filter
def amount(value: float, unit: str = "1") -> str:
    """A number with its unit, as the crew reads it."""
    return text(value, unit)


@register.filter
def drawn(svg: str) -> SafeString:
    """A picture of our own as it stands."""
    return mark_safe(svg)  # noqa: S308 - made by pictures/, never typed by a person
