"""Addresses of all pages, a group a folder."""

from django.urls import include, path

urlpatterns = [
    path("", include("friable.web.bench.urls")),
    path("jobs/", include("friable.web.jobs.urls")),
    path("mixes/", include("friable.web.mixes.urls")),
    path("materials/", include("friable.web.materials.urls")),
    path("containers/", include("friable.web.containers.urls")),
    path("batches/", include("friable.web.batches.urls")),
    path("climates/", include("friable.web.climates.urls")),
    path("watering/", include("friable.web.watering.urls")),
    path("seasons/", include("friable.web.seasons.urls")),
    path("windows/", include("friable.web.windows.urls")),
    path("find/", include("friable.web.finding.urls")),
    path("fewest/", include("friable.web.fewest.urls")),
    path("sayings/", include("friable.web.sayings.urls")),
    path("sheets/", include("friable.web.sheets.urls")),
]
