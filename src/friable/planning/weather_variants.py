"""Other years that the same place might have had: whole spells of days moved within their season."""

from typing import TYPE_CHECKING

import numpy as np

from friable.errors import BadQuantity
from friable.planning.climate import Climate
from friable.wording import gettext as _

if TYPE_CHECKING:
    from numpy.typing import NDArray

SPELL_DAYS = 5
WITHIN_DAYS = 21  # of the date, either side
WHOLE_YEAR_DAYS = 365
MOST_VARIANTS = 1000


def year_of_weathers(climate: Climate, count: int, seed: int = 1) -> list[Climate]:
    """Return weather variants of a year, or of a shorter season; the first is the climate itself.

    Parameters
    ----------
    climate : Climate
        What was recorded, or is built in.
    count : int
        How many, from 1 to 1,000.
    seed : int
        The same seed gives the same variants; the third of five is the third of ten.

    Raises
    ------
    BadQuantity
        If the count is out of range or the seed negative.

    Notes
    -----
    A variant is put together from spells of five whole days (block bootstrap, cf. [kunsch1989]_), each
    recorded at most 21 days away from where it goes; a record of a year or more runs on from its end to its
    start. All of a day moves together, so that cloud, warmth and dryness stay with each other. What one
    record cannot show stays unknown: no variant has a day that was not recorded, and a whole summer hotter
    than the one recorded will not appear. Spell and window are common practice, no source.
    """
    if not 1 <= count <= MOST_VARIANTS:
        raise BadQuantity(
            _("number of weathers"), count, "", _("from 1 to {most}").format(most=MOST_VARIANTS)
        )
    if seed < 0:
        raise BadQuantity(_("seed"), seed, "", _("0 or more"))
    return [climate] + [_variant(climate, number, seed) for number in range(1, count)]


def _variant(climate: Climate, number: int, seed: int) -> Climate:
    draws = np.random.Generator(np.random.PCG64([seed, number]))
    return climate.rearranged(
        spells(climate.days, draws),
        climate.starts_on,
        name=_("{name}, weather {number}").format(name=climate.name, number=number + 1),
        notes=(
            *climate.notes,
            _("Spells of {spell} days of the record, moved by up to {within} days.").format(
                spell=SPELL_DAYS, within=WITHIN_DAYS
            ),
        ),
    )


def spells(days: int, draws: np.random.Generator) -> "NDArray[np.int_]":
    """Return for each day the number of the recorded day that stands in for it."""
    picked = np.empty(days, dtype=int)
    for first in range(0, days, SPELL_DAYS):
        length = min(SPELL_DAYS, days - first)
        if days >= WHOLE_YEAR_DAYS:
            start = first + int(draws.integers(-WITHIN_DAYS, WITHIN_DAYS + 1))
        else:
            start = int(
                draws.integers(max(0, first - WITHIN_DAYS), min(days - length, first + WITHIN_DAYS) + 1)
            )
        picked[first : first + length] = np.arange(start, start + length) % days
    return picked
