"""What sources ask of a medium, held against what is forecast for a pot."""

from dataclasses import dataclass

from friable.planning.forecast_values import Figures
from friable.planning.reading import with_range
from friable.reference.sources import cited
from friable.reference.targets import TargetRange, target_ranges
from friable.science.estimate import Estimate
from friable.wording import gettext as _

PER_CENT = "% of volume"
COMPARED = (
    "air_space",
    "container_capacity",
    "total_porosity",
    "easily_available_water",
    "available_water",
    "dry_bulk_density_g_cm3",
)


@dataclass(frozen=True, slots=True)
class Fit:
    """One range that a source asks for, and how the forecast lies to it."""

    target: TargetRange
    figure: Estimate
    low: float | None  # in the unit of the figure: a share of bulk volume, or g/cm3
    high: float | None
    verdict: str  # "within", "below", "above": the middle of the forecast
    is_sure: bool  # the whole range of the forecast lies on that side

    @property
    def label(self) -> str:
        """Name of the figure, as a reader calls it."""
        return {
            "air_space": _("Air space"),
            "container_capacity": _("Container capacity"),
            "total_porosity": _("Total porosity"),
            "easily_available_water": _("Easily available water"),
            "available_water": _("Available water"),
            "dry_bulk_density_g_cm3": _("Dry bulk density"),
        }[self.target.quantity]

    @property
    def asked(self) -> str:
        """The range as it is asked for, with its unit."""
        low, high = self.target.low, self.target.high
        unit = "%" if self.target.unit == PER_CENT else self.target.unit
        if low is not None and high is not None:
            return _("{low:g} to {high:g} {unit}").format(low=low, high=high, unit=unit)
        if low is not None:
            return _("at least {low:g} {unit}").format(low=low, unit=unit)
        return _("at most {high:g} {unit}").format(high=high, unit=unit)

    @property
    def here(self) -> str:
        """The forecast with its range, in the same unit."""
        if self.target.unit == PER_CENT:
            return with_range(self.figure)
        return _("{value:.2g}, {low:.2g} to {high:.2g} {unit}").format(
            value=self.figure.value, low=self.figure.low, high=self.figure.high, unit=self.target.unit
        )

    @property
    def where(self) -> str:
        """Where the range was published."""
        return cited(self.target.source)

    @property
    def words(self) -> str:
        """How the forecast lies to the range, in words."""
        said = {"within": _("within"), "below": _("below it"), "above": _("above it")}[self.verdict]
        return said if self.is_sure else _("{said}, but its range reaches across").format(said=said)


def uses() -> tuple[str, ...]:
    """Return the uses for which some source asks for a figure that is forecast, in their order."""
    return tuple(dict.fromkeys(target.use for target in target_ranges() if target.quantity in COMPARED))


def fits(figures: Figures, use: str) -> tuple[Fit, ...]:
    """Return every range asked for a use beside the forecast; empty where nothing is asked.

    Notes
    -----
    Sources measure in cores or under a suction of their own: a range is a guide, told with its basis.
    """
    return tuple(
        _fit(target, getattr(figures, target.quantity))
        for target in target_ranges()
        if target.use == use and target.quantity in COMPARED
    )


def _fit(target: TargetRange, figure: Estimate) -> Fit:
    per = 100.0 if target.unit == PER_CENT else 1.0
    low = None if target.low is None else target.low / per
    high = None if target.high is None else target.high / per
    middle, *ends = (_side(x, low, high) for x in (figure.value, figure.low, figure.high))
    return Fit(target, figure, low, high, middle, all(side == middle for side in ends))


def _side(value: float, low: float | None, high: float | None) -> str:
    if low is not None and value < low:
        return "below"
    return "above" if high is not None and value > high else "within"
