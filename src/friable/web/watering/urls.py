"""Addresses of watering."""

urlpatterns = []
