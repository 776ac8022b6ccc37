"""Quillmoor Glasshouses: an invented place to try things in."""

from django.apps import AppConfig


class DemoConfig(AppConfig):
    """Brings the command `load_quillmoor`; it has no tables of its own."""

    name = "friable.demo"
    label = "demo"
