"""A figure with its range and its origin."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from friable.errors import BadQuantity
from friable.wording import gettext as _

HOW_KNOWN = ("computed", "measured", "published", "estimated", "memory", "common practice")


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value, the 5th and 95th percentile around it, and where it comes from.

    The unit stands in the name of the field that holds the estimate. Percentiles of a skewed range may
    leave the value outside by rounding only: low <= value <= high is required.
    """

    value: float
    low: float
    high: float
    how_known: str
    source: str
    held_from: str | None = None  # date from which the figure holds; None: always

    def __post_init__(self) -> None:
        if not all(math.isfinite(x) for x in (self.value, self.low, self.high)):
            raise BadQuantity(_("an estimate"), math.nan, "", _("a finite number"))
        if not self.low <= self.value <= self.high:
            raise BadQuantity(
                _("an estimate"),
                self.value,
                "",
                _("between {low:.6g} and {high:.6g}").format(low=self.low, high=self.high),
            )
        if self.how_known not in HOW_KNOWN:
            raise ValueError(f"how_known is {self.how_known!r}; it must be one of {', '.join(HOW_KNOWN)}")

    @classmethod
    def exact(cls, value: float, how_known: str, source: str) -> "Estimate":
        """Return a figure that has no range of its own."""
        return cls(value, value, value, how_known, source)

    def to_json(self) -> Mapping[str, float | str]:
        """Return the five parts under the names that programs read."""
        return {
            "value": self.value,
            "low": self.low,
            "high": self.high,
            "how_known": self.how_known,
            "source": self.source,
        }
