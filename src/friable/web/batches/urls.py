"""Addresses of the batches."""

from django.urls import path

from friable.web.batches import views

urlpatterns = [
    path("", views.list_all, name="batch-list"),
]
