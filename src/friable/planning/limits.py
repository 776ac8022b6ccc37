"""What a recipe may cost, weigh, contain and need: limits that hold whatever the pot."""

import math
from dataclasses import dataclass

from friable.errors import BadQuantity, BadText, Refused
from friable.reference.windows import WORDS_OF
from friable.wording import gettext as _


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits on a recipe; None asks nothing.

    Raises
    ------
    BadQuantity, BadText, Refused
        If a limit cannot be: below 0, no number, a word that the flag does not have, or half of a pair.
    """

    litres: float | None = None  # finished mix wanted; with `within_stock`
    within_stock: bool = False
    most_cost_per_l: float | None = None
    most_peat_share: float | None = None  # of the volume poured, 0 to 1
    most_wet_kg_l: float | None = None  # a litre of the mix as it stands after drainage
    lime: tuple[str, ...] | None = None  # words allowed, for every material of the mix
    feed: tuple[str, ...] | None = None
    dust: tuple[str, ...] | None = None
    hygiene: tuple[str, ...] | None = None
    least_years: float | None = None  # every part of at least a fifth lasts so long
    bucket_l: float | None = None
    drum_l: float | None = None  # the batch is measured in whole buckets and goes into one drum
    must: tuple[str, ...] = ()  # keys of materials
    never_with: tuple[tuple[str, str], ...] = ()  # pairs of keys

    def __post_init__(self) -> None:
        for name, title, unit in (
            ("litres", _("finished mix wanted"), "L"),
            ("bucket_l", _("bucket"), "L"),
            ("drum_l", _("drum"), "L"),
            ("most_wet_kg_l", _("highest wet weight"), "kg/L"),
        ):
            value = getattr(self, name)
            if value is not None and not (0 < value < math.inf):
                raise BadQuantity(title, value, unit, _("above 0"))
        for name, title, unit in (
            ("most_cost_per_l", _("highest cost"), "per L"),
            ("least_years", _("years that the mix must last"), ""),
        ):
            value = getattr(self, name)
            if value is not None and not (0 <= value < math.inf):
                raise BadQuantity(title, value, unit, _("0 or more"))
        if self.most_peat_share is not None and not 0 <= self.most_peat_share <= 1:
            raise BadQuantity(_("highest share of peat"), self.most_peat_share, "", _("from 0 to 1"))
        for flag in WORDS_OF:
            for word in getattr(self, flag) or ():
                if word not in WORDS_OF[flag]:
                    raise BadText(
                        flag,
                        word,
                        _("is no word for it"),
                        _("Use: {words}.").format(words=", ".join(WORDS_OF[flag])),
                    )
        if self.within_stock and self.litres is None:
            raise Refused(
                _("Within stock needs the finished mix wanted: say how many litres the stock must make.")
            )
        if (self.drum_l is None) != (self.bucket_l is None):
            raise Refused(
                _("Whole buckets in one drum need both: say what the bucket holds and what the drum holds.")
            )
        if self.bucket_l is not None and self.drum_l is not None and self.bucket_l > self.drum_l:
            raise BadQuantity(_("bucket"), self.bucket_l, "L", _("no larger than the drum"))

    @property
    def most_buckets(self) -> int | None:
        """Whole buckets that go into the drum."""
        if self.bucket_l is None or self.drum_l is None:
            return None
        return math.floor(self.drum_l / self.bucket_l + 1e-9)
