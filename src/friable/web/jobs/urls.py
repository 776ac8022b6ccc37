"""Addresses of the jobs."""

from django.urls import path

from friable.web.jobs import views

urlpatterns = [
    path("new", views.new, name="job-new"),
]
