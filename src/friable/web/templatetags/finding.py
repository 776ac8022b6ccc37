"""Recipes as the pages of finding show them."""

import re

from django import template
from django.utils.html import format_html, format_html_join

register = template.Library()

SIZES = re.compile(r"(\d[\d.]*-\d[\d.]* (?:mm|cm))")


@register.filter
def sizes_whole(text):
    """Return a text in which no size such as “0-12 mm” is broken over two lines."""
    pieces = SIZES.split(str(text))
    return format_html_join(
        "",
        "{}",
        (
            (format_html('<span class="whole">{}</span>', piece) if place % 2 else piece,)
            for place, piece in enumerate(pieces)
        ),
    )
