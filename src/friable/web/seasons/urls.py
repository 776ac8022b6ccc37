"""Addresses of the seasons."""

from django.urls import path

from friable.web.seasons import views

urlpatterns = [
    path("", views.season_list, name="season-list"),
]
