"""Numbers within physical bounds, in the field and again in the database."""

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.deconstruct import deconstructible
from django.utils.translation import gettext_lazy as _

from friable.planning.moisture import MOST_WATER_TO_DRY
from friable.planning.recipe import MOST_DAYS

MOST_LITRES = 100_000.0
MOST_GRAMS = 1_000_000.0
MOST_CM = 1000.0
MOST_PARTS = 10_000
MOST_POTS = 100_000
MOST_DENSITY_G_CM3 = 3.0


@deconstructible
class Within:
    """Refuse a number outside its bounds, and what is not a number."""

    def __init__(self, low, high, unit="", low_included=True, high_included=True):
        self.low, self.high, self.unit = low, high, unit
        self.low_included, self.high_included = low_included, high_included

    def __call__(self, value):
        number = float(value)
        above = self.low <= number if self.low_included else self.low < number
        below = number <= self.high if self.high_included else number < self.high
        if not (above and below):
            raise ValidationError(
                _("must be %(must_be)s."),
                code="out_of_bounds",
                params={"must_be": self.must_be, "unit": self.unit},
            )

    @property
    def must_be(self):
        """The bounds in words."""
        low = (_("at least {bound}") if self.low_included else _("above {bound}")).format(
            bound=f"{self.low:g}"
        )
        high = (_("at most {bound}") if self.high_included else _("below {bound}")).format(
            bound=f"{self.high:g}"
        )
        return _("{low} and {high}").format(low=low, high=high)

    def __eq__(self, other):
        return isinstance(other, Within) and vars(self) == vars(other)

    def __hash__(self):
        return hash((self.low, self.high, self.unit))

    def q(self, column):
        """Return the same rule for the database; a missing value passes."""
        low = "gte" if self.low_included else "gt"
        high = "lte" if self.high_included else "lt"
        return models.Q(**{f"{column}__{low}": self.low, f"{column}__{high}": self.high})


LITRES = Within(0.0, MOST_LITRES, "L", low_included=False)
LITRES_OR_NONE = Within(0.0, MOST_LITRES, "L")
GRAMS = Within(0.0, MOST_GRAMS, "g", low_included=False)
GRAMS_OR_NONE = Within(0.0, MOST_GRAMS, "g")
SIDE_CM = Within(0.1, MOST_CM, "cm")
DEPTH_CM = Within(0.0, MOST_CM, "cm")
RATE_G_PER_L = Within(0.0, 1000.0, "g/L", low_included=False)
DENSITY_G_CM3 = Within(0.0, MOST_DENSITY_G_CM3, "g/cm3", low_included=False)
SHARE_LOST = Within(0.0, 1.0, high_included=False)
OVERAGE = Within(0.0, 1.0)
MOISTURE = Within(0.0, MOST_WATER_TO_DRY)
YIELD = Within(0.0, 20.0, "L/L", low_included=False)
PARTS = Within(0, MOST_PARTS, low_included=False)
POTS = Within(1, MOST_POTS)
DAYS = Within(1, MOST_DAYS, "d")
MASS_KG = Within(0.0, 10_000.0, "kg", low_included=False)
LATITUDE_DEG = Within(-90.0, 90.0, "°", low_included=False, high_included=False)
ELEVATION_M = Within(-500.0, 6000.0, "m")
HEATED_TO_C = Within(-5.0, 40.0, "°C")
SHARE = Within(0.0, 1.0)
USE_FACTOR = Within(0.0, 10.0, low_included=False)
REFERENCE_MM = Within(0.0, 10_000.0, "mm", low_included=False)
HOURS_OF_WEATHER = Within(24, 11 * 366 * 24, "h")
WEATHERS = Within(1, 50)
DRAWS = Within(1, 256)


def amount(label, bound, **options):
    """Return a column for a number that is kept within its bound."""
    return models.FloatField(label, validators=[bound], **options)


def kept_within(model, **bounds):
    """Return one constraint a column, named after the model (`model_column_within`)."""
    return [
        models.CheckConstraint(condition=bound.q(column), name=f"{model}_{column}_within"[:60])
        for column, bound in bounds.items()
    ]
