"""Pages of the materials."""
