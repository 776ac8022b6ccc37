"""Texts that have broken pages before: markup, templates, file reads, hidden characters, floods."""

MARKUP = "</text></script><script>alert(1)</script>"
TEMPLATE = "{{ 1 }}{% load x %}"
TYPESETTING = '#read("/etc/passwd")'
RIGHT_TO_LEFT = "\u202epeat\u202c"
EMOJI = "🌱 fern & <b>moss</b>"
NAMES = (MARKUP, TEMPLATE, TYPESETTING, EMOJI)

NUMBERS = ("NaN", "1e308 pine bark", "inf perlite", "-1 perlite", "5")
FLOOD = "5 pine bark nursery + " * 23_000  # over half a million characters
PASTED = "5\tpine bark nursery\t1\tperlite coarse"
