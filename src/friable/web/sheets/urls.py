"""Addresses of what is printed."""

from django.urls import path

from friable.web.sheets import views

urlpatterns = [
    path("paper", views.paper, name="paper"),
    path("batch/<str:code>", views.batch, name="sheet-batch"),
    path("label/<str:code>", views.label, name="sheet-label"),
    path("card/<int:pk>", views.card, name="sheet-card"),
]
