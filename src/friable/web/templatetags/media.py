"""Figures and origins of media as the pages of mixes, materials and containers show them."""

from django import template
from django.urls import reverse
from django.utils.formats import number_format
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext as _

from friable.reference.sources import Source, source
from friable.web.templatetags.friable import short

register = template.Library()

MOST_NAMED_AUTHORS = 2
SMALL_L = 0.1


@register.filter
def per_hundred(share):
    """Return a plain share in whole per cent, without its sign."""
    return round(100 * share)


@register.filter
def litres(volume_l):
    """Return a volume with its unit: “1.84 L”, small ones in millilitres."""
    if volume_l < SMALL_L:
        return _("{number} mL").format(number=short(1000 * volume_l, 2))
    return _("{number} L").format(number=short(volume_l, 3))


@register.filter
def money(price, sign=""):
    """Return a price that is known in its own sign, or in this: “£0.30”, “£0.139”; “free” for nothing."""
    if not price.cost_per_l:
        return _("free")
    whole, mark, decimals = short(price.cost_per_l, 3).partition(number_format(1.5, decimal_pos=1)[1])
    amount = f"{whole}{mark}{decimals:0<2}" if mark else f"{whole}{number_format(0, decimal_pos=2)[1:]}"
    sign = price.currency or sign
    return f"{sign}\N{NO-BREAK SPACE}{amount}" if sign[-1:].isalpha() else f"{sign}{amount}"


@register.filter
def origins(keys):
    """Return where a figure comes from: published sources as links into the bibliography, else the words."""
    said = []
    for key in (part.strip() for part in keys.split(";")):
        found = _source(key)
        if found is None:
            said.append(format_html("{}", key))
        elif found.kind == "published":
            said.append(format_html('<a href="{}#{}">{}</a>', reverse("source-list"), key, short_name(found)))
        else:
            said.append(format_html("{}", found.title))
    return format_html_join("; ", "{}", ((one,) for one in said if one))


@register.filter
def short_name(found: Source) -> str:
    """Return a source as it is named in running text: “Boyer and others 2012”."""
    if not found.authors:
        who = found.title if len(found.title) < 60 else f"{found.title[:57].rstrip()}…"
    elif len(found.authors) <= MOST_NAMED_AUTHORS:
        who = _(" and ").join(found.authors)
    else:
        who = _("{first} and others").format(first=found.authors[0])
    return f"{who} {found.year}".strip()


def _source(key: str) -> Source | None:
    try:
        return source(key)
    except LookupError:
        return None
