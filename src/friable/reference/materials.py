"""Materials of the trade by grade: what is known of each, and how it is found by name."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache

from friable.errors import AmbiguousName, UnknownName
from friable.reference.load import read_table
from friable.reference.row import Row
from friable.reference.words import corrected, nearest, tokens
from friable.science.estimate import Estimate
from friable.science.ingredient import SUB_GRADES, Ingredient
from friable.wording import gettext as _

# What a group of figures is called in the columns `<group>_how_known` and `<group>_source`.
GROUPS = (
    "size", "dry_bulk_density", "total_porosity", "void_split", "water_at_10cm", "dry_end", "conductivity",
    "chemistry", "life",
)  # fmt: skip
WORKED_HERE = "worked-here"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one group of figures comes from: `source` holds keys of the bibliography joined by ;."""

    group: str
    how_known: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One material in one size grade. Fractions are of bulk volume, 0 to 1."""

    key: str
    name: str
    grade: str
    kind: str  # mineral, organic, fibrous, filler
    physics: Ingredient
    dry_bulk_density_g_cm3: Estimate
    total_porosity: Estimate
    water_at_10cm: Estimate
    water_at_100cm: Estimate
    water_at_15000cm: Estimate
    container_capacity_7p6cm: Estimate
    air_space_7p6cm: Estimate
    size_low_mm: float
    size_high_mm: float
    d50_mm: float
    ph_low: float | None = None
    ph_high: float | None = None
    ec_class: str = ""
    carbonate: str = "maybe"  # no, yes, maybe
    hydrophobic_when_dry: bool | None = None
    hazards: str = ""  # joined by ;
    note: str = ""
    aliases: tuple[str, ...] = ()
    origins: tuple[Origin, ...] = ()
    rests_on: str = ""  # key of the row of the table whose figures an own material takes

    @property
    def title(self) -> str:
        """Name and grade."""
        return f"{self.name} {self.grade}".strip()

    def origin(self, group: str) -> Origin | None:
        """Return where a group of figures comes from, if the material says."""
        return next((origin for origin in self.origins if origin.group == group), None)


@cache
def all_materials() -> tuple[Material, ...]:
    """Return every material of the tables, in their order."""
    curves = {row["key"]: row for row in read_table("retention")}
    aliases: dict[str, list[str]] = {}
    for row in read_table("aliases"):
        aliases.setdefault(row["key"], []).append(row["alias"])
    found = tuple(
        _material(row, curves[row["key"]], tuple(aliases.pop(row["key"], ())))
        for row in read_table("materials")
    )
    if aliases:
        raise LookupError(
            _("aliases.csv names materials that do not exist: {keys}.").format(keys=", ".join(aliases))
        )
    return found


def find_material(text: str, extra: Iterable[Material] = ()) -> Material:
    """Return the one material that a text names: its key, its title, an alias, or words of name and grade.

    Parameters
    ----------
    text : str
        What was typed; case, accents, order of words and plural do not matter.
    extra : iterable of Material, optional
        Own materials; one with the key of a table material stands in its place.

    Raises
    ------
    UnknownName
        If nothing has this name; the nearest names are given.
    AmbiguousName
        If several materials have it; their titles are given.
    """
    extra = tuple(extra)
    return _found(text, extra) if extra else _found_in_tables(text)


@lru_cache(maxsize=1024)
def _found_in_tables(text: str) -> Material:
    return _found(text, ())


def _found(text: str, extra: tuple[Material, ...]) -> Material:
    known = {material.key: material for material in (*all_materials(), *extra)}
    if text.strip() in known:
        return known[text.strip()]
    words = _words(text)
    for rule in (_has_title, _has_alias, _has_name, _contains, _contains_with_alias):
        found = [material for material in known.values() if words and rule(material, words)]
        if len(found) == 1:
            return found[0]
        if found:
            raise AmbiguousName(_("material"), text, [material.title for material in found])
    if (by_key := known.get(text.strip().upper())) is not None:  # late: "grit" may be a key in capitals
        return by_key
    raise UnknownName(_("material"), text, _near(text, known.values()))


def search(text: str) -> list[Material]:
    """Return the materials whose key, name, grade or one alias has words beginning with each word typed."""
    words = _words(text)
    return [
        material
        for material in all_materials()
        if (words or not text.strip())
        and all(
            any(known.startswith(word) for known in _every_word(material) | tokens(material.key))
            for word in words
        )
    ]


def _words(text: str) -> frozenset[str]:
    """Return the words of a name; none where it is only numbers and signs, which say no material."""
    words = tokens(text)
    return words if any(char.isalpha() for word in words for char in word) else frozenset()


def _has_title(material: Material, words: frozenset[str]) -> bool:
    return words == tokens(material.title)


def _has_alias(material: Material, words: frozenset[str]) -> bool:
    return any(words == tokens(alias) for alias in material.aliases)


def _has_name(material: Material, words: frozenset[str]) -> bool:
    return words == tokens(material.name)


def _contains(material: Material, words: frozenset[str]) -> bool:
    return words <= tokens(material.title)


def _contains_with_alias(material: Material, words: frozenset[str]) -> bool:
    return any(words <= tokens(material.title) | tokens(alias) for alias in material.aliases)


def _near(text: str, known: Iterable[Material]) -> list[str]:
    if not _words(text):
        return []
    materials = list(known)
    vocabulary = frozenset(word for material in materials for word in _every_word(material))
    words = corrected(tokens(text), vocabulary)
    for rule in (_has_alias, _contains, _contains_with_alias):
        meant = [material.title for material in materials if rule(material, words)]
        if meant:
            return meant[:4]
    spellings = {spelling: m.title for m in materials for spelling in (*m.aliases, m.title)}
    return nearest(text, spellings)


def _every_word(material: Material) -> frozenset[str]:
    return frozenset().union(tokens(material.title), *(tokens(alias) for alias in material.aliases))


def _material(row: Row, curve: Row, aliases: tuple[str, ...]) -> Material:
    origins = tuple(Origin(group, row[f"{group}_how_known"], row[f"{group}_source"]) for group in GROUPS)
    at_10cm = _estimate(row, "water_at_10cm", "")
    pores = _estimate(row, "total_porosity", "")
    water = row.number("container_capacity_7p6cm")
    air = row.number("air_space_7p6cm")
    down, up = at_10cm.value - at_10cm.low, at_10cm.high - at_10cm.value
    return Material(
        key=row["key"],
        name=row["name"],
        grade=row["grade"],
        kind=row["kind"],
        physics=_ingredient(row, curve),
        dry_bulk_density_g_cm3=_estimate(row, "dry_bulk_density", "_g_cm3"),
        total_porosity=pores,
        water_at_10cm=at_10cm,
        water_at_100cm=_in_proportion(row, "water_at_100cm", at_10cm),
        water_at_15000cm=_in_proportion(row, "water_at_15000cm", at_10cm),
        container_capacity_7p6cm=Estimate(
            water, max(0.0, water - down), min(pores.high, water + up), "estimated", WORKED_HERE
        ),
        air_space_7p6cm=Estimate(
            air,
            max(0.0, air - math.hypot(up, pores.value - pores.low)),
            min(pores.high, air + math.hypot(down, pores.high - pores.value)),
            "estimated",
            WORKED_HERE,
        ),
        size_low_mm=row.number("size_low_mm"),
        size_high_mm=row.number("size_high_mm"),
        d50_mm=row.number("d50_mm"),
        ph_low=row.maybe("ph_low"),
        ph_high=row.maybe("ph_high"),
        ec_class=row["ec_class"],
        carbonate=row["carbonate"],
        hydrophobic_when_dry=row["hydrophobic_when_dry"] != "no" if row["hydrophobic_when_dry"] else None,
        hazards=row["hazards"],
        note=row["note"],
        aliases=aliases,
        origins=origins,
    )


def _estimate(row: Row, group: str, unit: str) -> Estimate:
    return Estimate(
        row.number(f"{group}{unit}"),
        row.number(f"{group}_low{unit}"),
        row.number(f"{group}_high{unit}"),
        row[f"{group}_how_known"],
        row[f"{group}_source"],
    )


def _in_proportion(row: Row, column: str, at_10cm: Estimate) -> Estimate:
    """Return a figure of the dry end, whose range is that at 10 cm in proportion: none is published."""
    value = row.number(column)
    low, high = value * at_10cm.low / at_10cm.value, value * at_10cm.high / at_10cm.value
    return Estimate(value, low, high, row["dry_end_how_known"], row["dry_end_source"])


def _ingredient(row: Row, curve: Row) -> Ingredient:
    return Ingredient(
        key=row["key"],
        title=f"{row['name']} {row['grade']}".strip(),
        void_fraction=curve.number("void_fraction"),
        void_fraction_single_size=curve.number("void_fraction_single_size"),
        internal_porosity=curve.number("internal_porosity"),
        alpha_ext_per_cm=curve.number("alpha_ext_per_cm"),
        n_ext=curve.number("n_ext"),
        alpha_int_per_cm=curve.number("alpha_int_per_cm"),
        n_int=curve.number("n_int"),
        sub_sizes_mm=tuple(curve.number(f"sub_size_{i}_mm") for i in range(1, SUB_GRADES + 1)),
        dry_bulk_density_g_cm3=row.number("dry_bulk_density_g_cm3"),
        overlap_loss=curve.number("overlap_loss"),
        total_porosity_low=row.number("total_porosity_low"),
        total_porosity_high=row.number("total_porosity_high"),
        dry_bulk_density_low_g_cm3=row.number("dry_bulk_density_low_g_cm3"),
        dry_bulk_density_high_g_cm3=row.number("dry_bulk_density_high_g_cm3"),
        water_at_10cm_low=row.number("water_at_10cm_low"),
        water_at_10cm_high=row.number("water_at_10cm_high"),
    )
