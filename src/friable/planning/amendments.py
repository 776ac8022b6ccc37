"""Grams of each amendment for one batch, and what to do when the scale cannot weigh so little."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from friable.errors import BadQuantity, Refused, shown
from friable.planning.recipe import Amendment
from friable.planning.units_in import LARGEST_L, figures
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.recipes import Conflict

# A reading is trusted to a twentieth when it is twenty times the smallest the scale shows:
# common practice, no source.
READINGS_FOR_FIVE_PER_CENT = 20
CARRIER_L = 1.0
KILOGRAM_G = 1000


@dataclass(frozen=True, slots=True)
class AmendmentGrams:
    """What to weigh of one amendment for one batch. [g]"""

    name: str
    grams: float
    low_g: float | None
    high_g: float | None
    typed: str
    cautions: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        """Return the amount under the names that programs read."""
        return {
            "name": self.name,
            "grams": self.grams,
            "low_g": self.low_g,
            "high_g": self.high_g,
            "rate_as_written": self.typed,
            "cautions": list(self.cautions),
        }

    @property
    def words(self) -> str:
        """The amount as it is weighed: “202 g”, or a range."""
        if self.low_g is not None and self.high_g is not None and self.low_g < self.high_g:
            return _("{grams} ({low} to {high})").format(
                grams=mass_words(self.grams), low=mass_words(self.low_g), high=mass_words(self.high_g)
            )
        return mass_words(self.grams)


def mass_words(grams: float) -> str:
    """Return a mass to three figures in grams, or in kilograms from 10 kg on."""
    if grams >= 10 * KILOGRAM_G:
        return _("{mass} kg").format(mass=figures(float(f"{grams / KILOGRAM_G:.3g}")))
    return _("{mass} g").format(mass=figures(float(f"{grams:.3g}")))


def grams_for(
    amendment: Amendment,
    finished_l: float,
    scale_min_g: float | None = None,
    conflict: "Conflict | None" = None,
) -> AmendmentGrams:
    """Return what to weigh for a batch of finished mix.

    Parameters
    ----------
    amendment : Amendment
        With its rate by litre of finished mix.
    finished_l : float
        Volume of the batch after mixing. [L]
    scale_min_g : float, optional
        The least that our scale weighs. [g]
    conflict : Conflict, optional
        Rates of other sources for the same thing, where they disagree.

    Raises
    ------
    BadQuantity
        If the volume or the scale is impossible.
    Refused
        If the amount is less than the scale can weigh; the sentence says what to do instead.
    """
    if not 0 < finished_l <= LARGEST_L:
        raise BadQuantity(
            _("the batch"), finished_l, "L", _("above 0 and at most {most} L").format(most=LARGEST_L)
        )
    if scale_min_g is not None and not 0 < scale_min_g < 1e6:
        raise BadQuantity(_("the least the scale weighs"), scale_min_g, "g", _("above 0"))
    grams = amendment.rate_g_per_l * finished_l
    if scale_min_g is not None and grams < scale_min_g:
        raise Refused(_too_little(amendment, grams, scale_min_g))
    cautions = [amendment.caution] if amendment.caution else []
    if conflict is not None:
        cautions.append(_conflict_words(amendment, finished_l, conflict))
    low, high = amendment.low_g_per_l, amendment.high_g_per_l
    return AmendmentGrams(
        name=amendment.name,
        grams=grams,
        low_g=None if low is None else low * finished_l,
        high_g=None if high is None else high * finished_l,
        typed=amendment.typed,
        cautions=tuple(cautions),
    )


def all_grams(
    amendments: Sequence[Amendment],
    finished_l: float,
    scale_min_g: float | None = None,
    conflicts: "Sequence[Conflict]" = (),
) -> tuple[tuple[AmendmentGrams, ...], tuple[str, ...]]:
    """Return what to weigh of every amendment, and the sentences about those that cannot be weighed."""
    by_name = {conflict.amendment.casefold(): conflict for conflict in conflicts}
    weighed, refused = [], []
    for amendment in amendments:
        try:
            weighed.append(
                grams_for(amendment, finished_l, scale_min_g, by_name.get(amendment.name.casefold()))
            )
        except Refused as problem:
            refused.append(str(problem))
    return tuple(weighed), tuple(refused)


def _too_little(amendment: Amendment, grams: float, scale_min_g: float) -> str:
    name = shown(amendment.name)
    batch_l = scale_min_g / amendment.rate_g_per_l
    stock_g = READINGS_FOR_FIVE_PER_CENT * scale_min_g
    share_ml = 1000 * CARRIER_L * grams / stock_g
    return _(
        "{grams} of {name} is less than the {least} that the scale weighs; make at least {batch} L, "
        "or mix {stock} "
        "of it evenly into {carrier:g} L of dry sand and take {share:.3g} mL of that."
    ).format(
        grams=mass_words(grams),
        name=name,
        least=mass_words(scale_min_g),
        batch=figures(float(f"{batch_l:.3g}")),
        stock=mass_words(stock_g),
        carrier=CARRIER_L,
        share=share_ml,
    )


def _conflict_words(amendment: Amendment, finished_l: float, conflict: "Conflict") -> str:
    from friable.reference.recipes import GRAMS_PER_LITRE

    others = []
    for rate, unit, note, source in conflict.rates:
        per_litre = GRAMS_PER_LITRE.get(unit)
        if (
            per_litre is None
            or abs(rate * per_litre - amendment.rate_g_per_l) < 1e-9 * amendment.rate_g_per_l
        ):
            continue
        said = _("about {grams}").format(grams=mass_words(rate * per_litre * finished_l))
        others.append(f"{said} ({note or source})")
    if not others:
        return _("Sources differ on {name}; see the recipe.").format(name=shown(amendment.name))
    return _("Sources differ on {name}: {grams} here, {others} by another; decide before you weigh.").format(
        name=shown(amendment.name),
        grams=mass_words(amendment.rate_g_per_l * finished_l),
        others=_(" or ").join(others),
    )
