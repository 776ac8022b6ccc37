"""How many bales, blocks or bags to order for a loose volume."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from friable.errors import BadQuantity, Refused, UnknownName, shown
from friable.planning.units_in import LARGEST_L, figures
from friable.science.conversion import exact
from friable.science.estimate import Estimate
from friable.wording import gettext as _

MOST_YIELD_PER_L = 20.0  # loose litres for a litre of pack; nothing swells further
MOST_YIELD_PER_KG = 50.0
SAME_PACK = 0.2  # how far a weight may be from the one printed: common practice, no source


@dataclass(frozen=True, slots=True)
class PackYields:
    """Loose litres that one litre (or kilogram) of pack gives, and who says so."""

    low: float
    high: float
    measured: bool
    how_known: str
    source: str


@dataclass(frozen=True, slots=True)
class Packs:
    """What to order, what one pack gives, and why."""

    name: str
    packs: int
    packs_low: float  # if every pack gave most
    packs_high: float  # if every pack gave least
    loose_l_per_pack: Estimate
    measured: bool
    advice: str

    def to_json(self) -> dict[str, Any]:
        """Return the order under the names that programs read; a yield of one's own is a plain number."""
        loose = self.loose_l_per_pack
        return {
            "material": self.name,
            "packs": self.packs,
            "packs_low": self.packs_low,
            "packs_high": self.packs_high,
            "loose_l_per_pack": loose.value
            if self.measured and loose.low == loose.high
            else dict(loose.to_json()),
            "measured": self.measured,
            "advice": self.advice,
        }


def packs_needed(
    name: str,
    need_l: float | Fraction,
    pack_size: float | Fraction,
    yield_low: float,
    yield_high: float,
    measured: bool,
    *,
    size_unit: str = "L",
    how_known: str = "",
    source: str = "",
) -> Packs:
    """Return how many packs cover a need, whatever the yield turns out to be.

    Parameters
    ----------
    name : str
        What is in the pack.
    need_l : number
        Loose volume wanted. [L]
    pack_size : number
        Of one pack, as it is sold. [`size_unit`]
    yield_low, yield_high : float
        Loose litres for one litre or kilogram of pack. [L/`size_unit`]
    measured : bool
        Whether this lot was measured here; else the order is for the low end and one pack is to be measured.
    size_unit : str
        “L” or “kg”.

    Raises
    ------
    BadQuantity
        If the need, the pack or the yield is impossible.
    """
    most = MOST_YIELD_PER_KG if size_unit == "kg" else MOST_YIELD_PER_L
    per = f"L/{size_unit}"
    if not 0 < need_l <= LARGEST_L:
        raise BadQuantity(
            _("the need"), float(need_l), "L", _("above 0 and at most {most} L").format(most=LARGEST_L)
        )
    if not 0 < pack_size <= LARGEST_L:
        raise BadQuantity(_("the pack"), float(pack_size), size_unit, _("above 0"))
    if not 0 < yield_low <= most:
        raise BadQuantity(
            _("the yield"), yield_low, per, _("above 0 and at most {most:g} {per}").format(most=most, per=per)
        )
    if not yield_low <= yield_high <= most:
        raise BadQuantity(
            _("the high yield"),
            yield_high,
            per,
            _("from the low yield ({low:g}) to {most:g} {per}").format(low=yield_low, most=most, per=per),
        )
    least, greatest = exact(pack_size) * exact(yield_low), exact(pack_size) * exact(yield_high)
    order, fewest = math.ceil(exact(need_l) / least), math.ceil(exact(need_l) / greatest)
    known = how_known or ("measured" if measured else "published")
    loose = Estimate(
        float((least + greatest) / 2), float(least), float(greatest), known, source or _("as typed")
    )
    return Packs(
        name=name,
        packs=order,
        packs_low=float(exact(need_l) / greatest),
        packs_high=float(exact(need_l) / least),
        loose_l_per_pack=loose,
        measured=measured,
        advice=_advice(name, order, fewest, loose, measured),
    )


def yields_of(name: str, size_unit: str = "L", pack_size: float | None = None) -> PackYields:
    """Return the range of what is printed on the yield of a pack.

    Raises
    ------
    Refused
        If nothing is printed for this kind of pack: then one has to be measured.
    """
    from friable.reference.yields import pack_yields

    rows = []
    for called in (name, *(f"{name} {form}" for form in (("block", "brick") if size_unit == "kg" else ()))):
        try:
            rows += [row for row in pack_yields(called) if row not in rows]
        except UnknownName:
            continue
    if size_unit == "kg" and pack_size:  # blocks and bricks swell differently: keep to the pack of this size
        rows = [
            row for row in rows if row.pack_kg and abs(row.pack_kg - pack_size) <= SAME_PACK * pack_size
        ] or rows
    per_unit = []
    for row in rows:
        if size_unit == "L" and row.unit == "ratio":
            per_unit.append((row.yield_low, row.yield_high, row))
        elif size_unit == "kg" and row.unit == "L" and row.pack_kg:
            per_unit.append((row.yield_low / row.pack_kg, row.yield_high / row.pack_kg, row))
    if not per_unit:
        raise Refused(
            _(
                "No yield is known for {name} sold by the {unit}; break one pack up, measure it loose, "
                "and give the loose litres for one {unit} of pack."
            ).format(name=shown(name), unit=size_unit)
        )
    return PackYields(
        low=min(low for low, _high, _row in per_unit),
        high=max(high for _low, high, _row in per_unit),
        measured=False,
        how_known="published",
        source=";".join(dict.fromkeys(row.source for _low, _high, row in per_unit)),
    )


def _advice(name: str, order: int, fewest: int, loose: Estimate, measured: bool) -> str:
    each = figures(float(f"{loose.low:.3g}"))
    if loose.low != loose.high:
        each = _("{low} to {high}").format(low=each, high=figures(float(f"{loose.high:.3g}")))
    gives = _("One pack of {name} gives {each} L loose.").format(name=shown(name), each=each)
    if measured:
        return gives + " " + _("Order {order}.").format(order=order)
    ask = _("The yield of this lot is not measured: break one pack up, measure it loose, and write it down.")
    if fewest == order:
        return " ".join([gives, _("Order {order}; it covers the lowest yield too.").format(order=order), ask])
    return " ".join(
        [
            gives,
            _("Order {order}, for the lowest yield; {fewest} would do at the highest.").format(
                order=order, fewest=fewest
            ),
            ask,
        ]
    )
