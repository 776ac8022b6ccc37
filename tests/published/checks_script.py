"""The scripts that work out docs/science/checks.md, loaded from where they stand."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "docs" / "science"))

import make_checks
import published_mixes

laboratory_parts = published_mixes.laboratory_parts

__all__ = ["laboratory_parts", "make_checks", "published_mixes"]
