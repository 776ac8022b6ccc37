"""Drawings as SVG and chart descriptions: values in, text out."""
