"""Addresses of the containers."""

from django.urls import path

from friable.web.containers import views

urlpatterns = [
    path("", views.container_list, name="container-list"),
    path("add", views.add, name="container-add"),
    path("<int:pk>/", views.detail, name="container-detail"),
    path("<int:pk>/change", views.change, name="container-change"),
    path("<int:pk>/weigh", views.weigh, name="container-weigh"),
]
