"""Bin labels of any size, on label sheets or one by one."""

import io
from dataclasses import dataclass
from typing import Any

import segno

from friable.errors import BadQuantity, BadText, Refused
from friable.sheets.printed import day_in_words, printable
from friable.sheets.typesetting import paper_name, typeset
from friable.wording import gettext as _

SMALLEST_MM, LARGEST_MM = 20.0, 420.0
MOST_COPIES = 500
PAPER_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
SLACK_MM = 0.01
YES, NO, NOT_KNOWN = "yes", "no", "not known"


@dataclass(frozen=True, slots=True, kw_only=True)
class BinLabel:
    """What a bin label says. Dates are written 2026-11-25; yes, no or not known where it is asked."""

    mix_name: str
    mix_version: str
    batch_code: str
    day: str
    initials: str = ""
    treated: str = NOT_KNOWN
    how_treated: str = ""
    lime: str = NOT_KNOWN
    fertiliser: str = NOT_KNOWN
    not_for: tuple[str, ...] = ()
    use_by: str = ""


def bin_labels_pdf(
    label: BinLabel,
    *,
    label_width_mm: float,
    label_height_mm: float,
    paper: str = "single",
    margin_left_mm: float = 0.0,
    margin_top_mm: float = 0.0,
    columns: int = 1,
    rows: int = 1,
    gap_across_mm: float = 0.0,
    gap_down_mm: float = 0.0,
    start_at: int = 1,
    copies: int = 1,
    cut_lines: bool = False,
) -> bytes:
    """Return labels as PDF.

    Parameters
    ----------
    label_width_mm, label_height_mm : float
        Size of one label. [mm, 20 to 420]
    paper : str
        "a4", "letter", or "single" for a label printer: each label is a page of its own.
    margin_left_mm, margin_top_mm, gap_across_mm, gap_down_mm : float
        Where the first label stands on the sheet, and the space between labels. [mm]
    columns, rows : int
        Labels across and down the sheet.
    start_at : int
        First free label of a part-used sheet, counted along the rows from 1.
    copies : int
        How many of this label.
    cut_lines : bool
        Draw a thin line around each label, for plain paper.

    Raises
    ------
    BadQuantity, BadText, Refused
        If the labels do not fit on the paper, or the words do not fit on the label in a legible size.
    """
    for name, side in ((_("label width"), label_width_mm), (_("label height"), label_height_mm)):
        if not SMALLEST_MM <= side <= LARGEST_MM:
            raise BadQuantity(name, side, "mm", _("from 20 to 420"))
    if not 1 <= copies <= MOST_COPIES:
        raise BadQuantity(_("copies"), copies, "", _("from 1 to 500"))
    size = (label_width_mm, label_height_mm)
    if paper == "single":
        page, pages = size, [[(0.0, 0.0)] for _copy in range(copies)]
        if start_at != 1:
            raise BadQuantity(
                _("the first label"), start_at, "", _("1 where each label is a page of its own")
            )
    else:
        paper_name(paper)
        page = PAPER_MM[paper]
        starts = _columns_and_rows(
            page, size, (margin_left_mm, margin_top_mm), (columns, rows), (gap_across_mm, gap_down_mm)
        )
        pages = _places(starts, start_at, copies)
    code = plain_code(label.batch_code)
    values = {
        "language": "en",
        "title": _("Label of batch {code}").format(code=code),
        "page_mm": page,
        "label_mm": size,
        "pages": pages,
        "cut_lines": cut_lines,
        "arrangements": _arrangements(label),
        "qr": qr_svg(code),
        "qr_words": _("QR code of {code}").format(code=code),
    }
    too_much = _(
        "The words of this label do not fit on {width:g} by {height:g} mm in a legible size; shorten them or "
        "choose a larger label."
    ).format(width=label_width_mm, height=label_height_mm)
    return typeset("bin_label", values, too_much=too_much)


def plain_code(batch_code: str) -> str:
    """Return the batch id that the QR code carries: the id only, no address.

    Raises
    ------
    BadText
        If it is empty or longer than 40 characters.
    """
    code = printable(batch_code).replace("\u200b", "")
    if not 1 <= len(code) <= 40:
        raise BadText(_("batch id"), batch_code, _("must have 1 to 40 characters"))
    return code


def qr_svg(code: str) -> str:
    """Return a QR code as SVG, with the quiet zone of four modules around it."""
    out = io.BytesIO()
    segno.make(code, error="m", micro=False).save(
        out, kind="svg", xmldecl=False, border=4, light="#fff", dark="#000"
    )
    return out.getvalue().decode()


def _columns_and_rows(
    page: tuple[float, float],
    size: tuple[float, float],
    margin: tuple[float, float],
    count: tuple[int, int],
    gap: tuple[float, float],
) -> list[tuple[float, float]]:
    names = (
        (_("labels across"), _("left margin"), _("gap across"), _("width of the paper")),
        (_("labels down"), _("top margin"), _("gap down"), _("height of the paper")),
    )
    starts: list[list[float]] = []
    for way in (0, 1):
        across, margin_name, gap_name, paper_side = names[way]
        if not 1 <= count[way] <= 50:
            raise BadQuantity(across, count[way], "", _("from 1 to 50"))
        for name, space in ((margin_name, margin[way]), (gap_name, gap[way])):
            if not 0 <= space <= 300:
                raise BadQuantity(name, space, "mm", _("from 0 to 300"))
        needed = margin[way] + count[way] * size[way] + (count[way] - 1) * gap[way]
        if not needed <= page[way] + SLACK_MM:
            raise Refused(
                _(
                    "These labels need {needed:g} mm, but the {side} is {room:g} mm; "
                    "take fewer or smaller labels, or less margin and gap."
                ).format(needed=round(needed, 2), side=paper_side, room=page[way])
            )
        starts.append([margin[way] + i * (size[way] + gap[way]) for i in range(count[way])])
    return [(x, y) for y in starts[1] for x in starts[0]]


def _places(starts: list[tuple[float, float]], start_at: int, copies: int) -> list[list[tuple[float, float]]]:
    if not 1 <= start_at <= len(starts):
        raise BadQuantity(
            _("the first label"), start_at, "", _("from 1 to {count} on this sheet").format(count=len(starts))
        )
    pages: list[list[tuple[float, float]]] = [[]]
    for index in range(start_at - 1, start_at - 1 + copies):
        if index and index % len(starts) == 0 and pages[-1]:
            pages.append([])
        pages[-1].append(starts[index % len(starts)])
    return pages


def _arrangements(label: BinLabel) -> list[list[dict[str, Any]]]:
    """Return the words once with each fact on a line, once with the small facts run together."""

    def line(text: str, scale: float = 1.0, bold: bool = False, whole: bool = False) -> dict[str, Any]:
        return {"text": text, "scale": scale, "bold": bold, "whole": whole}

    name = line(printable(label.mix_name, 120), 1.55, bold=True)
    code = line(plain_code(label.batch_code), 1.3, bold=True, whole=True)
    version = _("version {number}").format(number=printable(label.mix_version, 20))
    made = ", ".join(x for x in (day_in_words(label.day), printable(label.initials, 20)) if x)
    use_by = _("use by {day}").format(day=day_in_words(label.use_by)) if label.use_by else ""
    contains = _contains(label)
    warning = []
    if label.not_for:
        things = ", ".join(printable(x) for x in label.not_for)
        warning = [line(_("NOT for {things}").format(things=things), 1.1, bold=True)]
    facts = [line(x) for x in (version, made, _treated(label), use_by) if x]
    facts.insert(-1 if use_by else len(facts), line(contains, bold=YES in (label.lime, label.fertiliser)))
    together = "; ".join(x for x in (version, made, _treated(label), contains, use_by) if x)
    return [[name, code, *facts, *warning], [name, code, line(together), *warning]]


def _treated(label: BinLabel) -> str:
    how = printable(label.how_treated, 60)
    words = {
        YES: _("treated: {how}").format(how=how) if how else _("treated"),
        NO: _("not treated"),
        NOT_KNOWN: _("treatment not known"),
    }
    return _chosen(_("treated"), label.treated, words)


def _contains(label: BinLabel) -> str:
    lime = _chosen(
        _("lime"), label.lime, {YES: _("contains LIME"), NO: _("no lime"), NOT_KNOWN: _("lime not known")}
    )
    fertiliser = _chosen(
        _("fertiliser"),
        label.fertiliser,
        {YES: _("contains FERTILISER"), NO: _("no fertiliser"), NOT_KNOWN: _("fertiliser not known")},
    )
    return f"{lime}, {fertiliser}"


def _chosen(name: str, answer: str, words: dict[str, str]) -> str:
    if answer not in words:
        raise BadText(name, answer, _("is not an answer"), _("Say yes, no or not known."))
    return words[answer]
