"""What a material costs, as it is typed: “£12.50 for 70 L”, “0.18 per L”."""

import re
from dataclasses import dataclass
from fractions import Fraction

from friable.errors import BadText
from friable.planning import units_in
from friable.planning.typed_text import VULGAR_SIGNS, leading_number, one_cell
from friable.wording import gettext as _

EXAMPLE = "12.50 for 70 L"
DEAREST_PER_L = 10_000
LONGEST_CURRENCY = 5
SIGN = rf"[^\W\d_]{{1,{LONGEST_CURRENCY}}}|[^\W\d_]{{0,3}}[^\w\s.,;:/+\-%{VULGAR_SIGNS}]"
PER = re.compile(r"\s*(?:/|\bper\b|\bfor\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Price:
    """What a loose litre costs, exact, in a currency as it was typed; empty where none was."""

    exact: Fraction
    currency: str
    typed: str

    @property
    def cost_per_l(self) -> float:
        """The price of a litre."""
        return float(self.exact)


def price_per_l(text: str, what: str = "") -> Price:
    """Read what so many litres cost.

    Parameters
    ----------
    text : str
        Such as “12.50 for 70 L”, “£12.50 / 3.8 cu ft”, “0.18 EUR per L”, “0 per L” for what is free.
    what : str
        What the sentence of a refusal calls it.

    Raises
    ------
    BadText
        If there is no amount of money, no volume, or either is impossible.
    """
    what = what or _("price")
    cell = one_cell(text, what)
    before = re.match(rf"({SIGN})\s*(?=[-+.,0-9{VULGAR_SIGNS}])", cell)
    number, rest = leading_number(cell[before.end() :] if before else cell, what, EXAMPLE)
    said = PER.split(rest, maxsplit=1)
    after = said[0].strip()
    if len(said) == 1 or not said[1]:
        raise BadText(
            what,
            text,
            _("does not say for how many litres"),
            _("Write it as {example}, or as 0.18 per L.").format(example=EXAMPLE),
        )
    if after and (before or not re.fullmatch(SIGN, after)):
        raise BadText(
            what,
            text,
            _("has a currency that cannot be read ({currency})").format(currency=after),
            _("Write it as {example}, with one sign such as £ before it if you like.").format(
                example=EXAMPLE
            ),
        )
    volume = said[1] if re.match(rf"[-+.,0-9{VULGAR_SIGNS}]", said[1]) else f"1 {said[1]}"
    litres = units_in.litres(volume, _("the volume that {what} is for").format(what=what))
    if number < 0:
        raise BadText(what, text, _("is below 0"), _("It must be 0 or more."))
    cost = number / litres.exact
    if cost > DEAREST_PER_L:
        raise BadText(
            what,
            text,
            _("is too large"),
            _("It must be at most {most} for a litre.").format(most=f"{DEAREST_PER_L:,}"),
        )
    return Price(cost, before.group(1) if before else after, cell)
