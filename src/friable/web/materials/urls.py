"""Addresses of the materials."""

urlpatterns: list = []
