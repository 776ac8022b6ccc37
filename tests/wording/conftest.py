"""Marks for translations, for as long as a test asks for them."""

import pytest
from django.utils import translation
from tests.wording.marked import mark

from friable import wording


@pytest.fixture
def marking(monkeypatch):
    """Mark every message that is asked for, in Django's translation and in ours."""

    def plural(one, several, number):
        return mark(one if number == 1 else several)

    for name, marker in {
        "gettext": mark,
        "ngettext": plural,
        "pgettext": lambda _context, message: mark(message),
        "npgettext": lambda _context, one, several, number: plural(one, several, number),
    }.items():
        monkeypatch.setattr(translation._trans, name, marker)
    before = wording._translator
    wording.install(translation.gettext)
    yield mark
    wording.install(before)
