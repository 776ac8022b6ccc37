"""Addresses of the batches."""

from django.urls import path

from friable.web.batches import views

urlpatterns = [
    path("", views.list_all, name="batch-list"),
    path("<str:code>", views.detail, name="batch-detail"),
    path("<str:code>/record", views.record, name="batch-record"),
    path("<str:code>/undo", views.undo, name="batch-undo"),
]
