"""Addresses of the seasons."""

from django.urls import path

from friable.web.seasons import views

urlpatterns = [
    path("", views.season_list, name="season-list"),
    path("new", views.new, name="season-new"),
    path("<int:pk>/", views.detail, name="season-detail"),
    path("<int:pk>/progress", views.progress, name="season-progress"),
    path("<int:pk>/begin", views.begin, name="season-begin"),
    path("<int:pk>/stop", views.stop, name="season-stop"),
]
