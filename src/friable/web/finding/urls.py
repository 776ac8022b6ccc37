"""Addresses of finding and replacing."""

from django.urls import path

from friable.web.finding import can_make_views, make_views, replace_views, views

urlpatterns = [
    path("", views.find, name="find"),
    path("replace/", replace_views.replace, name="replace"),
    path("can-make/", can_make_views.can_make, name="can-make"),
    path("<slug:key>/", views.work, name="find-work"),
    path("<slug:key>/progress", views.progress, name="find-progress"),
    path("<slug:key>/stop", views.stop, name="find-stop"),
    path("<slug:key>/make", make_views.make, name="find-make"),
]
