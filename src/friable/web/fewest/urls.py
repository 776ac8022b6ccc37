"""Addresses of the fewest mixes."""

from django.urls import path

from friable.web.fewest import views

urlpatterns = [
    path("", views.fewest, name="fewest"),
    path("<slug:key>/", views.work, name="fewest-work"),
    path("<slug:key>/progress", views.progress, name="fewest-progress"),
    path("<slug:key>/stop", views.stop, name="fewest-stop"),
]
