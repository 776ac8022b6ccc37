"""Sayings of growers: the list, and each asked of the user's own materials and pots."""
