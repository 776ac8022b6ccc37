"""Mixes of Quillmoor: invented recipes of common kinds."""

from friable.demo.people import KEEPER, PROPAGATOR
from friable.planning.recipe import Amendment, Component, Recipe
from friable.records import actions
from friable.records.models import MixVersion

MARKER = "Quillmoor potting-on"
DUST = "Moisten bark, peat and perlite before you tip them; wear a mask while they are dry."
COMPOST = "Compost and bark can carry Legionella: damp it, open a door, wear gloves, wash your hands."

LIME = Amendment("dolomitic limestone", 3.0, 2.5, 3.5, "3 kg/m3", "Not for heaths or bog plants.")
A_LITTLE_LIME = Amendment("dolomitic limestone", 1.2, typed="1.2 kg/m3")
TRACE = Amendment("fritted trace elements", 0.3, typed="300 g/m3", caution="Weigh it; a spoon is too coarse.")
RELEASE = Amendment(
    "coated release fertiliser, 5 to 6 months",
    2.0,
    1.5,
    3.0,
    "2 g/L",
    "Add after any heat treatment; use the mix within two weeks.",
)

LIMED = "heaths, bog plants"


def _recipe(name, text, amendments=(), cautions=(), **options) -> Recipe:
    """`5 pine bark nursery + 1 perlite coarse`, whole parts only."""
    pairs = [piece.strip().split(" ", 1) for piece in text.split("+")]
    return Recipe(
        name,
        tuple(Component(what, int(parts)) for parts, what in pairs),
        amendments=tuple(amendments),
        cautions=tuple(cautions),
        **options,
    )


POTTING_ON = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"

# recipe, for which plants, note of the mix
FIRST_VERSIONS = (
    (
        _recipe(MARKER, POTTING_ON, [LIME], [DUST], not_for=LIMED),
        "shrubs and trees out of liners",
        "The one to reach for.",
    ),
    (
        _recipe(
            "seed mix",
            "1 sphagnum peat fine + 1 vermiculite medium",
            [A_LITTLE_LIME],
            [DUST],
            not_for="heaths",
        ),
        "seed of everything but heaths",
        "Firm it with a board, once.",
    ),
    (
        _recipe("cutting mix", "1 sphagnum peat medium + 1 perlite coarse", (), [DUST], shrinkage=0.07),
        "softwood and semi-ripe cuttings",
        "",
    ),
    (
        _recipe(
            "cactus mix",
            "2 PUM_M + 2 Hagg Quarry grit + 1 north meadow loam + 1 arboretum leaf mould",
            (),
            [COMPOST],
            top_dressing="Hagg Quarry grit, 1 cm",
        ),
        "cacti and mesembs",
        "",
    ),
    (
        _recipe(
            "epiphyte bark", "5 BKE_M + 1 CHAR_S + 1 PERL_X", (), ["Soak the bark overnight before use."]
        ),
        "cattleyas and their kin",
        "",
    ),
    (
        _recipe(
            "bog mix",
            "3 sphagnum peat medium + 1 SAND_M",
            (),
            ["No lime and no feed, ever. Rain water only.", DUST],
        ),
        "sundews, pitcher plants, butterworts",
        "Has its own bucket and shovel.",
    ),
    (
        _recipe(
            "pond basket loam",
            "4 north meadow loam + 1 Hagg Quarry grit",
            top_dressing="gravel, 2 cm",
            cautions=("Heavy: half a bucket at a time.",),
        ),
        "water lilies and marginals",
        "Nothing that floats.",
    ),
    (
        _recipe(
            "alpine mix",
            "4 Hagg Quarry grit + 3 north meadow loam + 3 arboretum leaf mould",
            (),
            [COMPOST],
            top_dressing="Hagg Quarry grit, 1.5 cm",
        ),
        "saxifrages, gentians, cushions",
        "",
    ),
    (
        _recipe("base A", "6 coir pith + 3 wood fibre + 1 perlite coarse", [TRACE], [DUST], shrinkage=0.08),
        "into other mixes",
        "Peat free.",
    ),
    (_recipe("grit base", "1 SAND_M + 1 Hagg Quarry grit", shrinkage=0.03), "into other mixes", ""),
    (
        _recipe(
            "potting-on mix",
            "3 base A + 1 grit base",
            [RELEASE],
            shrinkage=0.06,
            not_for="bog plants",
            use_within_days=14,
        ),
        "the same, peat free",
        "On trial beside the bark mix.",
    ),
    (
        _recipe(
            "heath mix, as heard at the meeting",
            "3 composted bark + 1 arboretum leaf mould",
            incomplete=True,
            cautions=("The third component was not understood; ask before anyone mixes it.",),
        ),
        "heaths, peat free",
        "Kept as a note.",
    ),
)

LATER_VERSIONS = (
    (
        _recipe(
            MARKER, POTTING_ON, [LIME, RELEASE], [DUST], shrinkage=0.12, not_for=LIMED, use_within_days=14
        ),
        "Shrinkage counted by bucket over three batches; release fertiliser added.",
    ),
    (
        _recipe(
            "epiphyte bark",
            "4 BKE_M + 1 BKE_S + 1 CHAR_S + 1 PERL_X",
            (),
            ["Soak the bark overnight before use."],
        ),
        "A little small bark: the large alone dried out by noon.",
    ),
)


def write_mixes() -> dict[str, MixVersion]:
    """Write the mixes and their later versions; return the newest version of each by name."""
    newest = {}
    for recipe, plants, note in FIRST_VERSIONS:
        newest[recipe.name] = actions.write_mix(recipe, by=KEEPER, plant_group=plants, note=note)
    for recipe, note in LATER_VERSIONS:
        newest[recipe.name] = actions.new_mix_version(
            newest[recipe.name].mix, recipe, by=PROPAGATOR, note=note
        )
    return newest
