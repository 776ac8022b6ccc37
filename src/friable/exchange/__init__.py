"""Backup, restore and the check of what is kept."""
