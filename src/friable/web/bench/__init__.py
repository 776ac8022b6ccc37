"""The bench: what is to be done today, and who is on shift."""
