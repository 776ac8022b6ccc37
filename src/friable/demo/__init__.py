"""Quillmoor Glasshouses: an invented place to try things in."""
