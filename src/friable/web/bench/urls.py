"""Addresses of the bench."""

from django.urls import path

from friable.web.bench import views

urlpatterns = [
    path("", views.bench, name="bench"),
    path("initials", views.initials, name="initials"),
]
