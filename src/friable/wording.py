"""The one door through which words for people pass, so that they can be translated.

Layers below Django may not know it, yet their refusals are read on its pages. They ask `gettext`
here; `friable.project` installs Django's translator at start, everything else reads English.
"""

from collections.abc import Callable

Translator = Callable[[str], str]


def _english(message: str) -> str:
    return message


_translator: Translator = _english


def install(translator: Translator) -> None:
    """Translate from now on with this function (message in English -> message)."""
    global _translator
    _translator = translator


def gettext(message: str) -> str:
    """Return the message in the reader's language."""
    return _translator(message)
