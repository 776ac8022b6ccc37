"""A workbench for the growing media of a mixed living plant collection."""

__version__ = "0.1.0"
