"""Every word a reader sees passes through translation."""
