"""Addresses of the climates."""

from django.urls import path

from friable.web.climates import views

urlpatterns = [
    path("", views.climate_list, name="climate-list"),
    path("add", views.add, name="climate-add"),
    path("<int:pk>/", views.detail, name="climate-detail"),
    path("<int:pk>/change", views.change, name="climate-change"),
]
