"""The work of a search: asked here, done by a process of its own, read from its folder."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from friable.records import plain
from friable.records.models import Material
from friable.records.queries.measurements import mix_volumes_measured
from friable.runs import searches
from friable.runs.searches import Question, Told

KEPT = 8
NOT_TYPED = {"csrfmiddlewaretoken", "signed_by"}


def root() -> Path:
    """Return where the searches stand."""
    return settings.DATA_FOLDER / searches.FOLDER


def begin(kind: str, arguments: Mapping[str, Any], typed: Mapping[str, Sequence[str]], title: str) -> str:
    """Begin a search and return its key.

    Raises
    ------
    Refused
        If too many wait in line, or no process can be begun.
    """
    return searches.begin(root(), Question(kind, arguments, typed, title))


def typed_in(request: HttpRequest) -> dict[str, list[str]]:
    """Return a form as it was typed, to be shown again with the answer."""
    return {name: texts for name, texts in request.POST.lists() if name not in NOT_TYPED}


def typed_before(key: str) -> dict[str, list[str]]:
    """Return what was typed for an earlier search; nothing if it is gone."""
    folder = searches.folder_of(root(), key)
    if folder is None:
        return {}
    return {name: list(texts) for name, texts in question_of(folder).typed.items()}


def question_of(folder: Path) -> Question:
    """Return what is searched for in a folder.

    Raises
    ------
    BadFile
        If it is of another version.
    """
    return _question(folder, (folder / searches.QUESTION).stat().st_mtime_ns)


def look(folder: Path) -> Told:
    """Return how far the search of a folder is."""
    return searches.look(folder)


def answer_of(folder: Path) -> Any:
    """Return what a search found; None if it found nothing yet.

    Raises
    ------
    BadFile
        If it is of another version.
    """
    try:
        written = (folder / searches.ANSWER).stat().st_mtime_ns
    except OSError:
        return None
    return _answer(folder, written)


def overlap_losses() -> dict[frozenset[str], float]:
    """Return what the mix volumes measured here teach of pairs of materials."""
    rows = list(Material.objects.exclude(table_key=""))
    return plain.overlap_losses(mix_volumes_measured(rows).values())


@lru_cache(maxsize=KEPT)
def _question(folder: Path, _written: int) -> Question:
    return searches.read_question(folder)


@lru_cache(maxsize=KEPT)
def _answer(folder: Path, _written: int) -> Any:
    return searches.read_answer(folder)
