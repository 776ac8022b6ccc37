"""Climates: weather recorded here, weather files, and the seasons that are built in."""
