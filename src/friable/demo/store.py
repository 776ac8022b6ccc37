"""What was counted in the store at Quillmoor, what it cost, and a window of the keeper; all invented."""

from datetime import date, timedelta

from django.utils import timezone

from friable.demo.people import BUYER, HELPER, KEEPER
from friable.planning.prices import price_per_l
from friable.records import actions
from friable.records.models import Material

# key or own name, loose litres counted, price as it stood on the bill
STORE = (
    ("BKP_M", 430.0, "£9.20 for 66 L"),
    ("BKP_F", 120.0, "£8.80 for 70 L"),
    ("BKE_S", 60.0, "£16.00 for 50 L"),
    ("BKE_M", 85.0, "£17.50 for 50 L"),
    ("PEAT_F", 300.0, "£24.00 for 290 L"),
    ("PEAT_M", 380.0, "£19.50 for 200 L"),
    ("MOSS", 25.0, "£31.00 for 40 L"),
    ("COIR_P", 260.0, "£9.60 for 64 L"),
    ("COIR_C", 110.0, "£11.00 for 50 L"),
    ("WOODF", 180.0, "£14.00 for 250 L"),
    ("PERL_F", 90.0, "£17.00 for 100 L"),
    ("PERL_C", 210.0, "£18.00 for 97 L"),
    ("PERL_X", 40.0, "£21.00 for 100 L"),
    ("VERM_M", 95.0, "£19.00 for 100 L"),
    ("PUM_M", 75.0, "£8.40 for 20 L"),
    ("CCL_M", 30.0, "£12.00 for 20 L"),
    ("SAND_M", 160.0, "£4.50 for 15 L"),
    ("GRAV", 200.0, "£4.20 for 15 L"),
    ("CHAR_S", 12.0, "£14.00 for 10 L"),
    ("LECA_S", 50.0, "£15.00 for 50 L"),
    ("Hagg Quarry grit", 240.0, "£3.90 for 15 L"),
    ("north meadow loam", 350.0, "0 per L"),
    ("arboretum leaf mould", 190.0, "0 per L"),
)

# days ago, lowest and highest share of air, note
EPIPHYTES_AIR = (
    (210, 0.30, None, "Roots of the old cattleyas were brown below half depth."),
    (38, 0.25, 0.40, "Above two fifths they dried out by noon in June; the ferns beside them did well."),
)


def count_the_store(rows: dict[str, Material]) -> None:
    """Count everything twice, the bark after much potting, and write the bills down."""
    actions.count_store(
        [
            actions.StoreLine(
                material=rows[name],
                amount_l=round(1.6 * litres, -1),
                cost_per_l=price_per_l(bill).cost_per_l,
                currency=price_per_l(bill).currency,
                price_typed=bill,
            )
            for name, litres, bill in STORE
        ],
        by=BUYER,
        counted_on=_day(75),
    )
    actions.count_store(
        [actions.StoreLine(material=rows[name], amount_l=litres) for name, litres, _bill in STORE],
        by=HELPER,
        counted_on=_day(6),
    )


def set_windows() -> None:
    """Set a window of our own for the epiphytes, and change it once."""
    for days, low, high, note in EPIPHYTES_AIR:
        actions.set_window(
            "epiphyte-grown", "air_space", by=KEEPER, low=low, high=high, set_on=_day(days), note=note
        )


def _day(ago: int) -> date:
    return timezone.localdate() - timedelta(days=ago)
