"""Figures and origins of media as the pages of mixes, materials and containers show them."""

from django import template

register = template.Library()


@register.filter
def per_hundred(share):
    """Return a plain share in whole per cent, without its sign."""
    return round(100 * share)
