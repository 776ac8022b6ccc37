"""Figures as they are shown, and what the frame of every page asks for."""

import math

from django import template
from django.utils.formats import number_format
from django.utils.html import format_html
from django.utils.translation import gettext as _

from friable.planning.reading import trust_sentence as in_one_sentence
from friable.planning.reading import with_range
from friable.science.estimate import Estimate
from friable.web import shift
from friable.web.mixes.rows import STATE_WORDS

register = template.Library()

LEAST_SHOWN = 0.005  # rounds to 1 %


@register.simple_tag(takes_context=True)
def on_shift(context):
    """Return the initials of who is on shift."""
    return shift.initials(context["request"])


@register.simple_tag(takes_context=True)
def paper(context):
    """Return the paper chosen on this machine."""
    return shift.paper(context["request"])


@register.simple_tag(takes_context=True)
def here(context, groups):
    """Return the attribute that marks the group of pages one is on; a link may stand for several groups."""
    match = getattr(context.get("request"), "resolver_match", None)
    name = (match.url_name or "") if match else ""
    return format_html(' aria-current="{}"', "page") if name.split("-")[0] in groups.split() else ""


@register.simple_tag
def trust_sentence():
    """Return how far forecasts can be trusted."""
    return in_one_sentence()


@register.filter
def middle(figure):
    """Return the middle of an estimated share in whole per cent, without its sign."""
    return _whole_per_cent(figure.value)


@register.filter
def between(figure):
    """Return the range of an estimated share: “6 to 13 %”; nothing if it has none."""
    low, high = _whole_per_cent(figure.low), _whole_per_cent(figure.high)
    return _("{low} to {high} %").format(low=low, high=high) if low != high else ""


def _whole_per_cent(share):
    """Return whole per cent; what is above nothing never reads as nothing."""
    return _("under 1") if 0 < share < LEAST_SHOWN else round(100 * share)


@register.filter
def number(value, decimals=1):
    """Return a number with so many decimals; nothing for a number that is not known."""
    if value is None or value == "":
        return ""
    value = float(value)
    if not math.isfinite(value):
        return "?"
    return number_format(round(value, int(decimals)) + 0.0, decimal_pos=int(decimals))


@register.filter
def short(value, digits=3):
    """Return a number with at most so many significant digits and no idle zeros."""
    if value is None or value == "":
        return ""
    value = float(value)
    if not math.isfinite(value):
        return "?"
    if value == 0:
        return "0"
    decimals = max(0, int(digits) - 1 - math.floor(math.log10(abs(value))))
    text = number_format(round(value, decimals), decimal_pos=decimals)
    mark = number_format(1.5, decimal_pos=1)[1]
    return text.rstrip("0").rstrip(mark) if mark in text else text


@register.filter
def significant(value, digits=2):
    """Return a number with so many significant digits, idle zeros and all: “0.20”."""
    if value is None or value == "":
        return ""
    value = float(value)
    if not math.isfinite(value):
        return "?"
    if value == 0:
        return "0"
    decimals = max(0, int(digits) - 1 - math.floor(math.log10(abs(value))))
    return number_format(round(value, decimals), decimal_pos=decimals)


@register.filter
def share(value):
    """Return a fraction as per cent: an estimate with its range, a plain number as it is."""
    if value is None or value == "":
        return ""
    if isinstance(value, Estimate):
        return with_range(value)
    return _("{number} %").format(number=short(100 * float(value), 3))


@register.filter
def ranged(figure, digits=2):
    """Return an estimate with its range: “0.41, 0.35 to 0.48”."""
    if figure is None:
        return ""
    value, low, high = (significant(x, digits) for x in (figure.value, figure.low, figure.high))
    if low == high:
        return value
    return _("{value}, {low} to {high}").format(value=value, low=low, high=high)


@register.filter
def span(figure, digits=2):
    """Return the range of an estimate without its middle: “2.1 to 5.0”; nothing if it has none."""
    if figure is None:
        return ""
    low, high = significant(figure.low, digits), significant(figure.high, digits)
    return "" if low == high else _("{low} to {high}").format(low=low, high=high)


@register.filter
def how_known(figure):
    """Return how a figure is known, in one word."""
    words = {
        "computed": _("computed"),
        "measured": _("measured here"),
        "published": _("published"),
        "estimated": _("estimated"),
        "memory": _("from memory"),
        "common practice": _("common practice, no source"),
    }
    known = figure if isinstance(figure, str) else figure.how_known
    return words.get(known, known)


@register.filter
def measured_when(state):
    """Return the state in which a component is measured, in words."""
    return STATE_WORDS.get(state, state)


@register.filter
def about(value, digits=2):
    """Return a number as one would say it: rounded to so many digits however large, thousands parted."""
    value = float(value)
    if not math.isfinite(value) or value == 0:
        return "0" if value == 0 else "?"
    places = int(digits) - 1 - math.floor(math.log10(abs(value)))
    if places > 0 and not value.is_integer():
        return number_format(round(value, places), decimal_pos=places)
    places = min(places, 0)
    return number_format(round(value, places), decimal_pos=0, force_grouping=True)


@register.filter
def about_span(figure, digits=2):
    """Return the range of an estimate as one would say it; nothing if it has none."""
    low, high = about(figure.low, digits), about(figure.high, digits)
    return "" if low == high else _("{low} to {high}").format(low=low, high=high)


@register.filter
def in_minutes(seconds):
    """Return seconds as minutes."""
    return seconds / 60


@register.filter
def signed(value, digits=2):
    """Return a difference with its sign: “+3.2”, “-0.4”."""
    if isinstance(value, int):
        return f"{value:+,d}"
    text = about(value, digits)
    return f"+{text}" if value > 0 else text
