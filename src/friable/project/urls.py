"""Addresses: the pages, and what is shown when an address or a request fails."""

from django.urls import include, path

from friable.project import pages

urlpatterns = [path("", include("friable.web.urls"))]

handler400 = pages.bad_request
handler403 = pages.not_allowed
handler404 = pages.not_found
handler500 = pages.went_wrong
