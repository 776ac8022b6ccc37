"""Addresses of the seasons."""

urlpatterns = []
