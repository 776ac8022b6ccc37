"""Decisions on plain values: recipes, quantities, packs, forecasts."""
