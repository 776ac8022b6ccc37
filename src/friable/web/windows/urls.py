"""Addresses of the windows."""

from django.urls import path

from friable.web.windows import views

urlpatterns = [
    path("", views.window_list, name="window-list"),
    path("<slug:group>/", views.detail, name="window-detail"),
    path("<slug:group>/<slug:quantity>", views.set_window, name="window-set"),
]
