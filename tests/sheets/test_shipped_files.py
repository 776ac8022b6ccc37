"""What is shipped from elsewhere is whole and has its licence; templates fetch and read nothing."""

import re

import pytest

from friable.errors import BadText, Refused
from friable.sheets.typesetting import FONTS, TEMPLATES, TOO_MUCH, paper_name, typeset


@pytest.mark.parametrize(
    ("name", "version"), [("vega", "6.4.0"), ("vega-lite", "6.4.3"), ("vega-embed", "7.3.0")]
)
def test_chart_files_say_their_version_and_have_a_licence(name, version, checkout):
    folder = checkout / "src/friable/web/static/web/vendor" / name
    code = (folder / f"{name}.min.js").read_text()
    assert version in code
    assert "sourceMappingURL" not in code
    assert "Redistribution and use in source and binary forms" in (folder / "LICENSE").read_text()


def test_typefaces_have_their_licence(checkout):
    web = checkout / "src/friable/web/static/web/fonts"
    assert [p.name for p in sorted(web.glob("*.woff2"))] == [
        "atkinson-hyperlegible-next-latin-400-normal.woff2",
        "atkinson-hyperlegible-next-latin-700-normal.woff2",
    ]
    assert len(list(FONTS.glob("*.ttf"))) == 2
    for folder in (web, FONTS):
        assert "SIL Open Font License, Version 1.1" in (folder / "OFL.txt").read_text()


def test_templates_read_no_file_fetch_nothing_and_hold_no_words_of_their_own():
    for template in TEMPLATES.glob("*.typ"):
        code = re.sub(r"//.*", "", template.read_text())
        assert not re.search(r"\bread\(|@preview|http|\beval\(", code), template.name
        imports = re.findall(r'#import "([^"]+)"', code)
        assert set(imports) <= {"sheet.typ"}
        # No sentence in content brackets: words for people come with the values.
        assert not re.search(r"\[[A-Z][a-z]+ [a-z]+", code), template.name
    assert f'panic("{TOO_MUCH}")' in (TEMPLATES / "bin_label.typ").read_text()


def test_a_template_that_finds_no_room_is_a_refusal():
    values = {
        "language": "en", "title": "t", "page_mm": [20, 20], "label_mm": [20, 20], "pages": [[[0, 0]]],
        "cut_lines": False, "qr": "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>",
        "qr_words": "q",
        "arrangements": [[{"text": "w" * 400, "scale": 1, "bold": False, "whole": True}]],
    }  # fmt: skip
    with pytest.raises(Refused, match="too wordy"):
        typeset("bin_label", values, too_much="too wordy")


def test_an_unknown_paper_names_the_choices():
    assert paper_name("letter") == "us-letter"
    with pytest.raises(BadText, match="Choose a4 or letter"):
        paper_name("../../etc/passwd")
