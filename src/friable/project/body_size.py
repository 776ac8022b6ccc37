"""Refuse a request that carries more than a form or a recipe file can be."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from friable.project import pages

PIECE_BYTES = 64 * 1024
READ_AND_DROP_BYTES = 32 * 1024 * 1024


class BodySize:
    """Answer 413 with one sentence before anything of the body is kept."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        try:
            length = int(request.META.get("CONTENT_LENGTH") or 0)
        except ValueError:
            length = 0
        most = settings.LARGER_BODIES_BYTES.get(request.path_info, settings.LARGEST_BODY_BYTES)
        if length <= most:
            return self.get_response(request)
        # A browser that is still sending would show a broken connection instead of the sentence.
        left = min(length, READ_AND_DROP_BYTES)
        while left > 0 and (piece := request.read(min(PIECE_BYTES, left))):
            left -= len(piece)
        return pages.too_large(request, length, most)
