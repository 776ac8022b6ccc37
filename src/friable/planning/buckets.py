"""A volume in whole buckets and a mark on the last one."""

from dataclasses import dataclass

from friable.errors import BadQuantity
from friable.planning.rounding import step_for, whole_and_remainder
from friable.wording import gettext as _

# Shares of a bucket that can be told by eye: common practice, no source.
EIGHTHS = 8


@dataclass(frozen=True, slots=True)
class Bucket:
    """One of our own buckets: what it holds to the line, and to the brim. [L]"""

    name: str
    line_l: float
    brim_l: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.line_l <= 1e4:
            raise BadQuantity(_("the bucket's line"), self.line_l, "L", _("above 0 and at most 10000 L"))
        if self.brim_l is not None and not self.line_l <= self.brim_l <= 1e4:
            raise BadQuantity(
                _("the bucket's brim"),
                self.brim_l,
                "L",
                _("at least the line ({line:g} L)").format(line=self.line_l),
            )


@dataclass(frozen=True, slots=True)
class Filled:
    """Whole buckets to the line, and what goes into one more. [L]"""

    whole: int
    remainder_l: float
    share_of_line: float  # how high the last one is filled, 0 to 1 of the line
    above_line: bool  # the remainder fits above the line of the last full bucket

    @property
    def words(self) -> str:
        """The measure as it is said at the bench."""
        eighths = round(self.share_of_line * EIGHTHS)
        marks = {
            0: _("a little"),
            2: _("a quarter"),
            4: _("half"),
            6: _("three quarters"),
            EIGHTHS: _("nearly full"),
        }
        mark = marks.get(eighths, _("{eighths}/8").format(eighths=eighths))
        rest = _("{litres:g} L").format(litres=self.remainder_l)
        if not self.remainder_l:
            return _("{whole} to the line").format(whole=self.whole)
        if self.above_line:
            return _("{whole} to the line, the last one {rest} above it").format(whole=self.whole, rest=rest)
        if not self.whole:
            return _("{rest} ({mark})").format(rest=rest, mark=mark)
        return _("{whole} and {rest} ({mark})").format(whole=self.whole, rest=rest, mark=mark)


def fill(volume_l: float, bucket: Bucket, step_l: float | None = None) -> Filled:
    """Return a volume in this bucket, rounded to the step first."""
    step = step_for(volume_l) if step_l is None else step_l
    whole, remainder = whole_and_remainder(volume_l, bucket.line_l, step)
    spare = (bucket.brim_l or bucket.line_l) - bucket.line_l
    return Filled(whole, remainder, remainder / bucket.line_l, bool(whole and 0 < remainder <= spare))
