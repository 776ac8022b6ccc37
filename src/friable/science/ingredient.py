"""What the blending rule needs to know of one material in one size grade."""

from dataclasses import dataclass

from friable.errors import BadQuantity
from friable.wording import gettext as _

SUB_GRADES = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """Physics of one material in one grade, as it lies loosely poured.

    Total porosity = e + (1 - e) phi with e the voids between grains and phi the pores inside a grain.
    Water left at a suction s is e S_ext(s) + (1 - e) phi S_int(s), S = [1 + (alpha s)^n]^-(1 - 1/n), s in cm.
    The three pairs low/high are the 5th and 95th percentile of the input; None: no range is known.
    """

    key: str
    title: str
    void_fraction: float  # e, voids between grains of the whole grade
    void_fraction_single_size: float  # e1, the same if all grains had one size; enters the packing alone
    internal_porosity: float  # phi, share of the envelope volume of a grain
    alpha_ext_per_cm: float
    n_ext: float
    alpha_int_per_cm: float
    n_int: float
    sub_sizes_mm: tuple[float, ...]  # five equal envelope volumes, finest first
    dry_bulk_density_g_cm3: float
    overlap_loss: float  # lambda, share of the geometric overlap that is lost as volume
    total_porosity_low: float | None = None
    total_porosity_high: float | None = None
    dry_bulk_density_low_g_cm3: float | None = None
    dry_bulk_density_high_g_cm3: float | None = None
    water_at_10cm_low: float | None = None
    water_at_10cm_high: float | None = None

    def __post_init__(self) -> None:
        for name, share in {
            _("void fraction"): self.void_fraction,
            _("single-size void fraction"): self.void_fraction_single_size,
        }.items():
            if not 0 < share < 1:
                raise BadQuantity(
                    _("{name} of {title}").format(name=name, title=self.title),
                    share,
                    "",
                    _("between 0 and 1"),
                )
        if not 0 <= self.internal_porosity < 1:
            raise BadQuantity(
                _("internal porosity of {title}").format(title=self.title),
                self.internal_porosity,
                "",
                _("from 0 to below 1"),
            )
        for name, alpha in {
            _("outer alpha"): self.alpha_ext_per_cm,
            _("inner alpha"): self.alpha_int_per_cm,
        }.items():
            if not alpha > 0:
                raise BadQuantity(
                    _("{name} of {title}").format(name=name, title=self.title), alpha, "1/cm", _("above 0")
                )
        for name, n in {_("outer n"): self.n_ext, _("inner n"): self.n_int}.items():
            if not n > 1:
                raise BadQuantity(
                    _("{name} of {title}").format(name=name, title=self.title), n, "", _("above 1")
                )
        if len(self.sub_sizes_mm) != SUB_GRADES or not all(d > 0 for d in self.sub_sizes_mm):
            raise ValueError(f"{self.title} needs {SUB_GRADES} sub-grade sizes above 0 mm")
        if not self.dry_bulk_density_g_cm3 > 0:
            raise BadQuantity(
                _("dry bulk density of {title}").format(title=self.title),
                self.dry_bulk_density_g_cm3,
                "g/cm3",
                _("above 0"),
            )
        if not 0 <= self.overlap_loss <= 1:
            raise BadQuantity(
                _("overlap loss of {title}").format(title=self.title), self.overlap_loss, "", _("from 0 to 1")
            )

    @property
    def total_porosity(self) -> float:
        """Pores between and inside grains. [volume of pores per bulk volume]"""
        return self.void_fraction + (1 - self.void_fraction) * self.internal_porosity
