"""Sheets for paper: plain values in, PDF out."""
