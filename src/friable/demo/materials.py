"""What lies in the store at Quillmoor; names of our own materials, packs and lots are invented."""

from friable.demo.people import BUYER, HELPER, KEEPER, days_ago
from friable.records import actions
from friable.records.models import Material, Pack

IN_STORE = (
    "BKP_M", "BKP_F", "BKE_S", "BKE_M", "PEAT_F", "PEAT_M", "MOSS", "COIR_P", "COIR_C", "WOODF", "PERL_F",
    "PERL_C", "PERL_X", "VERM_M", "PUM_M", "CCL_M", "SAND_M", "GRAV", "CHAR_S", "LECA_S",
)  # fmt: skip

# name, row of the table it rests on, other words for it, note
OURS = (
    ("Hagg Quarry grit", "GRIT", ("house grit",), "Lime free: three handfuls did not fizz in vinegar."),
    ("north meadow loam", "LOAM", ("meadow loam",), "Stacked two years, sieved to 9 mm."),
    ("arboretum leaf mould", "LEAFM", (), "Third year of the heap; sieved to 10 mm."),
    ("bench sweepings", "", (), "Kept for the heap, never for pots; nothing is known of it."),
)

# key of the material, pack, declared litres, lowest and highest yield, where the yield comes from
PACKS = (
    (
        "PEAT_M",
        "compressed bale, 3.8 cu ft",
        107.6,
        1.34,
        2.0,
        "what growers and sellers report; see pack yields",
    ),
    (
        "PEAT_F",
        "compressed bale, 6 cu ft",
        170.0,
        1.34,
        2.0,
        "what growers and sellers report; see pack yields",
    ),
    ("COIR_P", "block, 5 kg, for 70 L", 70.0, 0.857, 1.071, "60 to 75 L out of 5 kg, as printed by sellers"),
    ("BKP_M", "bag, 70 L", 70.0, None, None, ""),
    ("BKE_M", "sack, 50 L", 50.0, None, None, ""),
    ("PERL_C", "bag, 100 L", 100.0, None, None, ""),
    ("VERM_M", "bag, 100 L", 100.0, None, None, ""),
    ("PUM_M", "bag, 20 L", 20.0, None, None, ""),
    ("WOODF", "bale for 250 L", 250.0, None, None, ""),
)

# key, pack, lot, loose litres it gave, days ago, who
YIELDS = (
    ("PEAT_M", "compressed bale, 3.8 cu ft", "peat, spring", 201.0, 64, HELPER),
    ("COIR_P", "block, 5 kg, for 70 L", "coir 3", 64.0, 41, HELPER),
    ("BKP_M", "bag, 70 L", "bark 12", 66.5, 33, KEEPER),
    ("PERL_C", "bag, 100 L", "perlite, white sacks", 97.0, 33, HELPER),
)


def store_materials() -> dict[str, Material]:
    """Store the materials in use; return those of the table by key, our own by name."""
    rows = {key: actions.use_material(key, by=KEEPER) for key in IN_STORE}
    for name, key, aliases, note in OURS:
        rows[name] = actions.add_material(name, by=KEEPER, table_key=key, aliases=aliases, note=note)
    actions.retire(rows["bench sweepings"], by=KEEPER)
    return rows


def store_packs(rows: dict[str, Material]) -> None:
    """Store the packs, and what opened ones gave."""
    packs: dict[tuple[str, str], Pack] = {}
    for key, name, declared_l, low, high, source in PACKS:
        packs[key, name] = actions.add_pack(
            rows[key],
            name,
            by=BUYER,
            declared_l=declared_l,
            yield_low=low,
            yield_high=high,
            yield_source=source,
        )
    for key, name, lot, loose_l, days, who in YIELDS:
        actions.measure_pack_yield(packs[key, name], by=who, loose_l=loose_l, lot=lot, done_at=days_ago(days))
