"""From plain values to PDF: the only door to Typst.

Values travel as JSON and are set as text; nothing typed becomes part of a template. Templates read no file
but each other, and only the faces shipped here are used, so that a sheet looks the same on every machine.
"""

import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import typst

from friable.errors import BadText, Refused
from friable.wording import gettext as _

TEMPLATES = Path(__file__).parent / "templates"
FONTS = Path(__file__).parent / "fonts"
PAPERS = {"a4": "a4", "letter": "us-letter"}
TOO_MUCH = "too much for the space"  # what a template says when nothing legible fits


def typeset(template: str, values: Mapping[str, Any], *, too_much: str = "") -> bytes:
    """Return a PDF made from a template and its values.

    Raises
    ------
    Refused
        With the sentence `too_much`, when the template finds no legible size at which all of it fits.
    """
    try:
        return typst.compile(
            str(TEMPLATES / f"{template}.typ"),
            root=str(TEMPLATES),
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs={"values": json.dumps(values, ensure_ascii=True)},
            timestamp=0,
        )
    except typst.TypstError as problem:
        if too_much and TOO_MUCH in str(problem):
            raise Refused(too_much) from problem
        raise


def paper_name(paper: str) -> str:
    """Return Typst's name of a paper size."""
    if paper not in PAPERS:
        raise BadText(_("paper"), paper, _("is not known here"), _("Choose a4 or letter."))
    return PAPERS[paper]


@lru_cache(maxsize=1)
def _fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(FONTS)])
