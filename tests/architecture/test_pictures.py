"""What the documents point to is there, and the pictures are small enough to send."""

import re

import pytest

LARGEST_PICTURE_BYTES = 200_000
LINK = re.compile(r"\]\((?!https?://|#)([^)#\s]+)")
DOCUMENTS = (
    "README.md",
    "ARCHITECTURE.md",
    "CONTRIBUTING.md",
    "docs/decisions/README.md",
    "docs/science/checks.md",
)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_link_of_a_document_leads_to_a_file(checkout, name):
    document = checkout / name
    missing = [to for to in LINK.findall(document.read_text()) if not (document.parent / to).exists()]

    assert missing == []


def test_three_pictures_are_kept_and_each_is_small(checkout):
    pictures = sorted((checkout / "docs" / "pictures").glob("*.png"))

    assert [picture.stem for picture in pictures] == ["batch-sheet", "mixes", "pot-section"]
    assert all(picture.stat().st_size < LARGEST_PICTURE_BYTES for picture in pictures)
