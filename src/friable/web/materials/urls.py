"""Addresses of the materials and of the bibliography."""

from django.urls import path

from friable.web.materials import measure_views, stock_views, views

urlpatterns = [
    path("", views.material_list, name="material-list"),
    path("sources", views.sources, name="source-list"),
    path("add", views.add, name="material-add"),
    path("stock", stock_views.store, name="material-store"),
    path("<slug:key>/", views.detail, name="material-detail"),
    path("<slug:key>/change", views.change, name="material-change"),
    path("<slug:key>/alias", views.alias, name="material-alias"),
    path("<slug:key>/stock", stock_views.count, name="material-stock"),
    path("<slug:key>/price", stock_views.price, name="material-price"),
    path("<slug:key>/pack", measure_views.pack, name="material-pack"),
    path("<slug:key>/density", measure_views.density, name="material-density"),
    path("<slug:key>/mix-volume", measure_views.mix_volume, name="material-mix-volume"),
    path("<slug:key>/yield", measure_views.pack_yield, name="material-yield"),
    path("measurement/<int:pk>/withdraw", measure_views.withdraw, name="measurement-withdraw"),
]
