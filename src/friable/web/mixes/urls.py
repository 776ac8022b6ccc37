"""Addresses of the mixes."""

urlpatterns: list = []
