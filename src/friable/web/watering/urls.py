"""Addresses of watering."""

from django.urls import path

from friable.web.watering import views

urlpatterns = [
    path("", views.watering, name="watering"),
    path("compare/", views.compare, name="watering-compare"),
    path("weigh", views.weigh, name="watering-weigh"),
    path("weighing/<int:pk>/withdraw", views.withdraw, name="watering-withdraw"),
]
