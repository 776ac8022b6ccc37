"""Seasons: a whole collection through a year of weather, worked out in the background."""
