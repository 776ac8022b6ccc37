"""Load the demo once."""

from django.core.management.base import BaseCommand

from friable.demo.quillmoor import load


class Command(BaseCommand):
    """Load Quillmoor Glasshouses, unless it was loaded before."""

    help = "Load Quillmoor Glasshouses, an invented place to try things in; does nothing the second time."

    def handle(self, *_args, **_options):
        """Say what was done."""
        loaded = load()
        self.stdout.write("Quillmoor Glasshouses is loaded." if loaded else "Quillmoor was loaded before.")
