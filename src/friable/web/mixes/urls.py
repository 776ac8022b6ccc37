"""Addresses of the mixes, of comparing them, and of the pot test."""

from django.urls import path

from friable.web.mixes import compare_views, pot_test_views, published_views, views

urlpatterns = [
    path("", views.mix_list, name="mix-list"),
    path("write", views.write, name="mix-write"),
    path("answer", views.answer, name="mix-answer"),
    path("published", published_views.published, name="mix-published"),
    path("compare", compare_views.compare, name="mix-compare"),
    path("pot-test", pot_test_views.pot_test, name="pot-test"),
    path("<int:pk>/", views.detail, name="mix-detail"),
    path("<int:pk>/new-version", views.new_version, name="mix-new-version"),
    path("<int:pk>/change", views.change_version, name="mix-change"),
]
