"""Pages that fail in every way, to see what is answered."""

from django.db import OperationalError
from django.http import HttpResponse
from django.urls import path

from friable.errors import BadQuantity
from friable.project.urls import handler400, handler403, handler404, handler500

__all__ = ["handler400", "handler403", "handler404", "handler500"]

saved: list[str] = []


def show(request):
    return HttpResponse("<h1>shown</h1>" + "compost " * 200)


def save(request):
    saved.append(request.POST.get("name", ""))
    return HttpResponse("saved")


def refuse(request):
    raise BadQuantity("height", -1.0, "cm", "above 0")


def crash(request):
    raise RuntimeError("a bug: secret of the inside")


def database_says(words):
    def view(request):
        raise OperationalError(words)

    return view


urlpatterns = [
    path("show", show),
    path("save", save),
    path("refuse", refuse),
    path("crash", crash),
    path("full", database_says("database or disk is full")),
    path("locked", database_says("database is locked")),
    path("readonly", database_says("attempt to write a readonly database")),
]
