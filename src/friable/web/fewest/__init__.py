"""The fewest mixes that keep a collection."""
