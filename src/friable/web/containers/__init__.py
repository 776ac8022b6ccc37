"""Pages of the containers."""
