"""Addresses of the sayings."""

from django.urls import path

from friable.web.sayings import views

urlpatterns = [
    path("", views.saying_list, name="saying-list"),
    path("<slug:key>/", views.detail, name="saying-detail"),
]
