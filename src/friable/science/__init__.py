"""Functions without state on plain numbers and arrays; one phenomenon a module."""
