"""Sayings of growers, answered by computation on materials and containers that the user names."""
