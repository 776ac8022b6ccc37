"""Words and figures as the templates need them."""
