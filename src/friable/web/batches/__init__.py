"""Batches: what was planned, what was really put in, what was undone."""
