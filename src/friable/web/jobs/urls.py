"""Addresses of the potting job."""

from django.urls import path

from friable.web.jobs import views

urlpatterns = [
    path("new", views.new, name="job-new"),
    path("<int:pk>/pots", views.pots, name="job-pots"),
    path("<int:pk>/mix", views.mix, name="job-mix"),
    path("<int:pk>/amounts", views.amounts, name="job-amounts"),
    path("<int:pk>/batch", views.batch, name="job-batch"),
    path("<int:pk>/typed/<slug:step>", views.typed, name="job-typed"),
    path("<int:pk>/clone", views.clone, name="job-clone"),
    path("<int:pk>/drop", views.drop, name="job-drop"),
    path("<int:pk>/potted", views.potted, name="job-potted"),
]
