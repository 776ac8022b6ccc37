"""What a material brings into a mix besides air and water: lime, food, dust, hygiene, peat, years."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from friable.reference.load import read_table
from friable.reference.materials import Material, Origin
from friable.reference.row import Row
from friable.reference.windows import WORDS_OF, YES_OR_NO
from friable.reference.words import tokens
from friable.wording import gettext as _

UNKNOWN = "unknown"
LIME_OF_CARBONATE: Mapping[str, str] = {"no": "no", "yes": "yes", "maybe": "sometimes"}
TYPED = ("feed", "dust", "hygiene", "draws_nitrogen")  # columns with a how_known and a source of their own
PEAT_WORDS = frozenset({"peat", "peatmoss"})
# From least to most trusted; a row is only as well known as its weakest flag.
TRUST = ("memory", "common practice", "estimated", "computed", "published", "measured")


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialFlags:
    """The flags of one material, how they are known and from where.

    `lime`, `feed`, `dust` and `draws_nitrogen` are no, yes, sometimes or unknown; `hygiene` is clean, usually
    clean, treat first or unknown. `how_known` is that of the weakest of them, `source` names all;
    `origin` tells them apart.
    """

    key: str
    peat: bool
    mineral: bool
    lime: str
    feed: str
    dust: str
    hygiene: str
    years_low: float | None
    years_high: float | None
    draws_nitrogen: str
    how_known: str
    source: str
    remark: str = ""
    origins: tuple[Origin, ...] = ()

    def origin(self, flag: str) -> Origin | None:
        """Return where one flag comes from: lime, feed, dust, hygiene, draws_nitrogen or years."""
        return next((origin for origin in self.origins if origin.group == flag), None)


def material_flags(material: Material) -> MaterialFlags:
    """Return the flags of a material.

    Notes
    -----
    Lime follows from the material's own carbonate. An own material that rests on a row of the table takes its
    flags with its figures, and is peat by its name as well; one that does not is unknown in everything that
    it does not say itself: mineral by its kind, peat by its name.
    """
    key = material.rests_on or material.key
    row = _rows().get(key)
    if row is None:
        return MaterialFlags(
            key=material.key,
            peat=_called_peat(material),
            mineral=material.kind == "mineral",
            lime=_lime(material),
            feed=UNKNOWN,
            dust=UNKNOWN,
            hygiene=UNKNOWN,
            years_low=None,
            years_high=None,
            draws_nitrogen=UNKNOWN,
            how_known="memory",
            source="memory",
        )
    years = _years()[key]
    chemistry = material.origin("chemistry")
    origins = (
        Origin("lime", *((chemistry.how_known, chemistry.source) if chemistry else ("memory", "memory"))),
        *(Origin(flag, row[f"{flag}_how_known"], row[f"{flag}_source"]) for flag in TYPED),
        Origin("years", years["life_how_known"], years["life_source"]),
    )
    return MaterialFlags(
        key=material.key,
        peat=_yes(row, "peat") or (bool(material.rests_on) and _called_peat(material)),
        mineral=_yes(row, "mineral"),
        lime=_lime(material),
        feed=_word(row, "feed"),
        dust=_word(row, "dust"),
        hygiene=_word(row, "hygiene"),
        years_low=years.maybe("breaks_down_low_years"),
        years_high=years.maybe("breaks_down_high_years"),
        draws_nitrogen=_word(row, "draws_nitrogen"),
        how_known=min((origin.how_known for origin in origins), key=TRUST.index),
        source=";".join(dict.fromkeys(key for origin in origins for key in origin.source.split(";"))),
        remark=row["remark"],
        origins=origins,
    )


@cache
def _rows() -> dict[str, Row]:
    return {row["key"]: row for row in read_table("material_flags")}


@cache
def _years() -> dict[str, Row]:
    return {row["key"]: row for row in read_table("materials")}


def _lime(material: Material) -> str:
    return LIME_OF_CARBONATE.get(material.carbonate, UNKNOWN)


def _called_peat(material: Material) -> bool:
    words = tokens(material.title)
    return bool(words & PEAT_WORDS) and "free" not in words


def _yes(row: Row, column: str) -> bool:
    if row[column] not in ("yes", "no"):
        raise row.refused(
            _("{column} is “{text}”; it must be yes or no").format(column=column, text=row[column])
        )
    return row[column] == "yes"


def _word(row: Row, flag: str) -> str:
    words = WORDS_OF.get(flag, YES_OR_NO)
    if row[flag] not in words:
        raise row.refused(
            _("{column} is “{text}”; it must be one of {words}").format(
                column=flag, text=row[flag], words=", ".join(words)
            )
        )
    return row[flag]
