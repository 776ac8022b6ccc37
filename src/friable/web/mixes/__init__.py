"""Pages of the mixes."""
