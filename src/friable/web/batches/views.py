from django.shortcuts import render


def list_all(request):
    return render(request, "bench/bench.html", {})
