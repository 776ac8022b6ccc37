"""The batch sheet: what to load, in which order, how much of it, and room to write what was really used."""

import re
from dataclasses import dataclass
from typing import Any

from friable.errors import BadQuantity, BadText
from friable.sheets.cautions import Caution, follow_local_rules
from friable.sheets.printed import day_in_words, grams, litres, printable
from friable.sheets.squeeze import SQUEEZE_STATES, squeeze_in_words
from friable.sheets.typesetting import paper_name, typeset
from friable.wording import gettext as _

MOST_SINGLE_BOXES = 60
BOX_OF = 10
POINTS_PER_PX = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class PartToLoad:
    """One material to pour: whole buckets and a remainder, or litres where there is no bucket."""

    name: str
    volume_l: float
    buckets: int = 0
    remainder_l: float = 0.0
    stage: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AmendmentToWeigh:
    """One amendment to weigh, and how."""

    name: str
    mass_g: float
    how_weighed: str = ""
    stage: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchSheet:
    """All that a batch sheet says. Dates are written 2026-11-25; `loading` is in the order of loading."""

    title: str
    batch_code: str
    mix_name: str
    mix_version: str
    finished_l: float
    loading: tuple[PartToLoad | AmendmentToWeigh, ...]
    day: str = ""
    who: str = ""
    bucket_name: str = ""
    bucket_l: float | None = None
    dampen: tuple[str, ...] = ()
    premix: tuple[str, ...] = ()
    water_to_add: str = ""
    stop_when: str = ""
    squeeze: str = ""  # one of SQUEEZE_STATES
    keep_from_heat: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    lifting: tuple[str, ...] = ()
    section_svg: str = ""


def batch_sheet_pdf(sheet: BatchSheet, paper: str = "a4") -> bytes:
    """Return the batch sheet as PDF.

    Parameters
    ----------
    sheet : BatchSheet
        What it says.
    paper : str
        "a4" or "letter".

    Raises
    ------
    BadText, BadQuantity
        If the paper, the date, the squeeze state or an amount cannot be printed.
    """
    if sheet.squeeze and sheet.squeeze not in SQUEEZE_STATES:
        raise BadText(
            _("squeeze state"), sheet.squeeze, _("is not known here"), _("Choose crumbles, holds or runs.")
        )
    mix = _("{mix}, version {number}").format(
        mix=printable(sheet.mix_name), number=printable(sheet.mix_version, 20)
    )
    facts = [(_("mix"), mix), (_("makes"), litres(sheet.finished_l))]
    if sheet.bucket_l is not None:
        facts.append(
            (
                _("bucket"),
                ", ".join(x for x in (printable(sheet.bucket_name, 60), litres(sheet.bucket_l)) if x),
            )
        )
    facts += [(_("made by"), printable(sheet.who, 80)), (_("date"), day_in_words(sheet.day))]
    values = {
        "paper": paper_name(paper),
        "language": "en",
        "title": printable(sheet.title),
        "code": printable(sheet.batch_code, 60),
        "facts": facts,
        "before": _lists(
            [
                (_("Dampen before pouring"), sheet.dampen),
                (_("Mix first with a little of the carrier"), sheet.premix),
            ]
        ),
        "loading": _loading(sheet),
        "after": _lists([(_("Water to add"), (sheet.water_to_add,)), (_("Stop when"), (sheet.stop_when,))]),
        "squeeze": {"state": sheet.squeeze, "words": squeeze_in_words(sheet.squeeze)}
        if sheet.squeeze
        else None,
        "heat": [printable(name) for name in sheet.keep_from_heat],
        "cautions": [{"text": printable(c.text), "source": printable(c.source)} for c in sheet.cautions],
        "lifting": [printable(line) for line in sheet.lifting],
        "section": _section(sheet.section_svg),
        "words": _words(),
    }
    return typeset("batch_sheet", values)


def _loading(sheet: BatchSheet) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    stage = ""
    for number, item in enumerate(sheet.loading, start=1):
        if item.stage != stage:
            stage = item.stage
            rows.append({"stage": printable(stage)})
        row = {"stage": "", "number": str(number), "name": printable(item.name), "note": printable(item.note)}
        rows.append({**row, **(_part(item, sheet) if isinstance(item, PartToLoad) else _amendment(item))})
    return rows


def _part(part: PartToLoad, sheet: BatchSheet) -> dict[str, Any]:
    total = litres(part.volume_l)
    if sheet.bucket_l is None:
        return {"tens": 0, "boxes": 1, "mark": None, "amount": total, "how": ""}
    if not 0 <= part.buckets <= 10_000:
        raise BadQuantity(_("buckets"), part.buckets, "", _("from 0 to 10,000"))
    if not 0 <= part.remainder_l <= sheet.bucket_l:
        raise BadQuantity(
            _("remainder"),
            part.remainder_l,
            "L",
            _("from 0 to the bucket ({bucket})").format(bucket=litres(sheet.bucket_l)),
        )
    tens, boxes = divmod(part.buckets, BOX_OF) if part.buckets > MOST_SINGLE_BOXES else (0, part.buckets)
    mark = None
    if round(part.remainder_l, 1) > 0:
        mark = {
            "share": part.remainder_l / sheet.bucket_l,
            "words": _("to the {volume} mark").format(volume=litres(part.remainder_l)),
        }
    buckets = _("{count} buckets").format(count=part.buckets) if part.buckets != 1 else _("1 bucket")
    if not part.buckets:
        return {
            "tens": 0,
            "boxes": 0 if mark else 1,
            "mark": mark,
            "amount": "" if mark else total,
            "how": "",
        }
    return {"tens": tens, "boxes": boxes, "mark": mark, "amount": buckets, "how": f"({total})"}


def _amendment(item: AmendmentToWeigh) -> dict[str, Any]:
    return {
        "tens": 0,
        "boxes": 1,
        "mark": None,
        "amount": grams(item.mass_g),
        "how": printable(item.how_weighed),
    }


def _lists(lists: list[tuple[str, tuple[str, ...]]]) -> list[dict[str, Any]]:
    made = [{"title": title, "lines": [printable(x) for x in lines if x]} for title, lines in lists]
    return [one for one in made if one["lines"]]


def _section(svg: str) -> dict[str, Any] | None:
    if not svg:
        return None
    width = re.search(r'width="([0-9.]+)"', svg)
    if not width:
        raise BadText(_("pot section"), svg[:40], _("has no width"))
    return {"svg": svg, "width_pt": float(width.group(1)) * POINTS_PER_PX}


def _words() -> dict[str, str]:
    return {
        "batch": _("Batch"),
        "page": _("page"),
        "of": _("of"),
        "before": _("Before you start"),
        "order": _("Load in this order"),
        "number": _("no."),
        "material": _("material"),
        "measure": _("measure, tick each"),
        "used": _("really used"),
        "initials": _("initials"),
        "time": _("time"),
        "tens": _("each large box is 10 buckets"),
        "squeeze": _("Squeeze a handful"),
        "heat": _("Do not heat; add after treatment"),
        "cautions": _("Take care"),
        "rules": follow_local_rules(),
        "source": _("Source"),
        "made": _("really made, L"),
        "remarks": _("remarks"),
        "section": _("In the pot after watering"),
    }
