"""What was measured at Quillmoor; all figures invented."""

from friable.demo.people import HELPER, KEEPER, PROPAGATOR, RESEARCHER, days_ago
from friable.records import actions
from friable.records.models import Container, Material, MixVersion


def measure(
    rows: dict[str, Material], pots: dict[str, Container], mixes: dict[str, MixVersion], marker: str
) -> None:
    """Write the measurements down, one of them withdrawn."""
    actions.measure_dry_bulk_density(
        rows["BKP_M"],
        by=RESEARCHER,
        dry_bulk_density_g_cm3=0.198,
        dry_bulk_density_low_g_cm3=0.190,
        dry_bulk_density_high_g_cm3=0.207,
        lot="bark 12",
        note="Three fills of a 2 L jug, dried two days in the seed oven.",
        done_at=days_ago(30),
    )
    wet = actions.measure_dry_bulk_density(
        rows["PUM_M"], by=HELPER, dry_bulk_density_g_cm3=0.62, done_at=days_ago(29)
    )
    actions.withdraw_measurement(wet, by=RESEARCHER, reason="weighed wet")
    actions.measure_dry_bulk_density(
        rows["PUM_M"], by=RESEARCHER, dry_bulk_density_g_cm3=0.45, done_at=days_ago(28)
    )
    actions.measure_mix_volume(
        rows["PEAT_M"],
        rows["PERL_C"],
        by=PROPAGATOR,
        material_l=10,
        other_material_l=10,
        mixed_l=19.4,
        note="Moist peat, two buckets, turned ten times on the tarp.",
        done_at=days_ago(26),
    )
    actions.measure_pot_test(
        pots["2 L pot"],
        by=KEEPER,
        headspace_cm=1.5,
        water_in_l=1.37,
        drained_l=0.52,
        mix_version=mixes[marker],
        note="Filled loosely, tapped once.",
        done_at=days_ago(21),
    )
