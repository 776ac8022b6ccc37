"""Addresses of the containers."""

urlpatterns: list = []
