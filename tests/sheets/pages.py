"""What is printed on a PDF, read by poppler: words with their places, page sizes, pixels."""

import re
import subprocess
from dataclasses import dataclass

from PIL import Image

POINTS_PER_MM = 72 / 25.4


@dataclass(frozen=True)
class Word:
    """A word and its box in millimetres from the top left of its page."""

    text: str
    page: int
    left: float
    top: float
    right: float
    bottom: float


def run(*command):
    return subprocess.run(command, check=True, capture_output=True).stdout.decode()


def text_of(pdf, tmp_path):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    text = run("pdftotext", "-layout", str(path), "-").replace("\u200b", "").replace("\u00a0", " ")
    return re.sub(r"\s+", " ", text)


def words_of(pdf, tmp_path):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    words, page = [], 0
    for line in run("pdftotext", "-bbox", str(path), "-").splitlines():
        page += "<page " in line
        found = re.search(r'xMin="([^"]+)" yMin="([^"]+)" xMax="([^"]+)" yMax="([^"]+)">(.*)</word>', line)
        if found:
            left, top, right, bottom = (float(x) / POINTS_PER_MM for x in found.groups()[:4])
            words.append(Word(found.group(5), page, left, top, right, bottom))
    return words


def page_sizes_mm(pdf, tmp_path):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    found = re.findall(r"Page +\d+ size: +([0-9.]+) x ([0-9.]+) pts", run("pdfinfo", "-l", "-1", str(path)))
    return [(float(w) / POINTS_PER_MM, float(h) / POINTS_PER_MM) for w, h in found]


def pictures_of(pdf, tmp_path, dots_per_inch=100):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    for old in tmp_path.glob("page-*.png"):
        old.unlink()
    run("pdftoppm", "-r", str(dots_per_inch), "-png", str(path), str(tmp_path / "page"))
    return [Image.open(p).convert("RGB") for p in sorted(tmp_path.glob("page-*.png"))]


def type_sizes_of(pdf, tmp_path):
    """Type sizes in points, from poppler's XML."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    xml = run("pdftohtml", "-xml", "-zoom", "1", "-i", "-stdout", str(path))
    return [int(size) for size in re.findall(r'<fontspec id="\d+" size="(\d+)"', xml)]


def is_without_colour(picture):
    """Every pixel is a grey: anti-aliased black on white."""
    colours = picture.getcolors(maxcolors=1 << 24)
    return all(max(c) - min(c) <= 2 for _, c in colours)
