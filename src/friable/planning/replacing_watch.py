"""What changes and what to watch when one mix stands in for another, in plain sentences."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from friable.planning.reading import per_cent, with_range
from friable.planning.replacing_values import Change, GradeSwap, PotChange
from friable.reference.rewetting import mixed_rewetting
from friable.reference.sources import UNDATED, cited, source
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.material_flags import MaterialFlags
    from friable.reference.materials import Material
    from friable.science.estimate import Estimate

    Parts = Sequence[tuple[Material, float]]

LOOKS_DRY = "rhspeatfree"
USUAL_DAYS = 7
CARRIED_L = 10
LASTS_ALIKE = 0.10  # water that lasts within a tenth as long asks for no change
FELT = 0.03  # of the volume: a difference of air or water that is felt at the bench
FELT_LOAD = 0.10  # of the weight
YES_OR_SO = ("yes", "sometimes")
PUBLISHED = "published"


def changes_said(
    pots: Sequence[PotChange],
    costs: tuple[float | None, float | None],
    flags_before: Mapping[str, Any],
    flags: Mapping[str, Any],
) -> tuple[str, ...]:
    """Return what changes, one sentence a figure; each container by name where there are several."""
    said = []
    for pot in pots:
        where = "" if len(pots) == 1 else _("In {pot}: ").format(pot=pot.container.describe())
        said.append(
            _opened(
                where,
                _("air {air}; water held {water}.").format(
                    air=_share_change(pot.changes["air_space"]),
                    water=_share_change(pot.changes["container_capacity"]),
                ),
            )
        )
        wet, ten = pot.changes["wet_mass_kg"], CARRIED_L / pot.container.medium_volume_l
        said.append(
            _opened(
                where,
                _(
                    "wet weight {new} kg a pot instead of {old}; {load_l} L to carry: {new_load} kg instead "
                    "of {old_load}."
                ).format(
                    old=_kg(wet.before),
                    new=_kg(wet.after),
                    load_l=CARRIED_L,
                    old_load=_kg(wet.before, ten),
                    new_load=_kg(wet.after, ten),
                ),
            )
        )
    old, new = costs
    if old is not None and new is not None:
        said.append(_("Cost of a litre: {new:.2f} instead of {old:.2f}.").format(new=new, old=old))
    elif new is not None:
        said.append(_("Cost of a litre: {new:.2f}.").format(new=new))
    if (peat := flags["peat_share"]) != flags_before["peat_share"]:
        said.append(
            _("Peat: {new} of what is poured instead of {old}.").format(
                new=per_cent(peat), old=per_cent(flags_before["peat_share"])
            )
        )
    return tuple(said)


def watch_said(
    before: "Parts",
    after: "Parts",
    pots: Sequence[PotChange],
    flags_before: Mapping[str, Any],
    flags: Mapping[str, Any],
    flags_of: "Mapping[str, MaterialFlags]",
) -> tuple[str, ...]:
    """Return what to watch, the person who waters first."""
    said = []
    for pot in pots:
        where = "" if len(pots) == 1 else _("In {pot}: ").format(pot=pot.container.describe())
        said += [where + sentence for sentence in (*_watering(pot), *pot.warnings)]
    said += _looks_dry(pots, flags_before, flags)
    said += _sheds(before, after)
    new = [material for material, _share in _grown(before, after)]
    said += _by_flag(new, flags_of, flags_before)
    said += _lasting(flags_before, flags)
    return tuple(dict.fromkeys(said))


def sources_said(
    materials: "Sequence[Material]", flags_of: "Mapping[str, MaterialFlags]", told: Sequence[str]
) -> tuple[str, ...]:
    """Return in full the sources that the sentences told of these materials name in short."""
    keys = [LOOKS_DRY]
    for material in materials:
        for flag in ("draws_nitrogen", "lime", "feed"):
            keys += [key.strip() for key in _source_of(flags_of[material.key], flag).split(";")]
    return tuple(
        cited(key)
        for key in dict.fromkeys(keys)
        if source(key).kind == PUBLISHED and any(_short(key) in said for said in told)
    )


def grades_said(
    gone: "Sequence[Material]", after: "Parts", pots: Sequence[PotChange]
) -> tuple[GradeSwap, ...]:
    """Return every swap by the same name in another grade, with what it does to air and water."""
    found = []
    for old in gone:
        for new, _share in after:
            if new.name == old.name and new.key != old.key:
                told = [
                    _("{pot}: air {air}, water held {water}").format(
                        pot=pot.container.describe(),
                        air=_points(pot.changes["air_space"].difference),
                        water=_points(pot.changes["container_capacity"].difference),
                    )
                    for pot in pots
                ]
                found.append(
                    GradeSwap(
                        name=old.name,
                        before=old.grade,
                        after=new.grade,
                        said=_(
                            "The same name, another grade: {name} {after} is not {name} {before}. {told}."
                        ).format(name=old.name, before=old.grade, after=new.grade, told="; ".join(told)),
                    )
                )
    return tuple(found)


# --- sentences ----------------------------------------------------------------------------------


def _watering(pot: PotChange) -> list[str]:
    lasts, said = pot.water_lasts, []
    days, low, high = (_days(USUAL_DAYS * ratio) for ratio in (lasts.value, lasts.low, lasts.high))
    spread = _("{days} days ({low} to {high})").format(days=days, low=low, high=high)
    if lasts.value < 1 - LASTS_ALIKE:
        said.append(
            _("Water sooner: what lasted {usual} days lasts about {spread}.").format(
                usual=USUAL_DAYS, spread=spread
            )
        )
    elif lasts.value > 1 + LASTS_ALIKE:
        said.append(
            _(
                "Water later: what lasted {usual} days lasts about {spread}; at the old rhythm it "
                "stays wetter than before."
            ).format(usual=USUAL_DAYS, spread=spread)
        )
    else:
        said.append(
            _("Water about as often: what lasted {usual} days lasts about {spread}.").format(
                usual=USUAL_DAYS, spread=spread
            )
        )
    easy = pot.easy_water_lasts
    if easy is not None and (easy.value - 1) * (lasts.value - 1) < 0 and abs(easy.value - 1) > LASTS_ALIKE:
        said.append(
            _("Of that, what roots take up easily (10 to 50 cm) is {ratio:.2g} times as much.").format(
                ratio=easy.value
            )
        )
    air = pot.changes["air_space"]
    if air.difference.value < -FELT:
        said.append(
            _(
                "Less air after a watering ({points}): let it drain, and give less if the bottom stays wet."
            ).format(points=_points(air.difference))
        )
    return said


def _days(days: float) -> str:
    return f"{days:.0f}" if days >= 10 else f"{days:.2g}"


def _looks_dry(
    pots: Sequence[PotChange], flags_before: Mapping[str, Any], flags: Mapping[str, Any]
) -> list[str]:
    """The top dries more than the rest, or peat has gone: what is seen is not what is there."""
    hides = any(
        pot.thirds[-1].water_after < pot.thirds[-1].water_before - FELT
        and _slope(pot, after=True) > _slope(pot, after=False) + FELT
        for pot in pots
    )
    less_peat = flags["peat_share"] < flags_before["peat_share"] and flags["peat_share"] == 0
    if not hides and not less_peat:
        return []
    return [
        _(
            "The surface can look dry while there is water below: lift the pot, or feel below, before you "
            "water [{source}]."
        ).format(source=_short(LOOKS_DRY))
    ]


def _slope(pot: PotChange, *, after: bool) -> float:
    low, high = pot.thirds[0], pot.thirds[-1]
    return low.water_after - high.water_after if after else low.water_before - high.water_before


def _sheds(before: "Parts", after: "Parts") -> list[str]:
    old, new = mixed_rewetting(before), mixed_rewetting(after)
    if new is not None and old is None:
        return [
            _("Once dry, {material} sheds water: do not let it dry out, or soak the pot.").format(
                material=new.material
            )
        ]
    if old is not None and new is None:
        return [_("It takes water up again more readily once dry.")]
    return []


def _by_flag(
    new: "Sequence[Material]", flags_of: "Mapping[str, MaterialFlags]", flags_before: Mapping[str, Any]
) -> list[str]:
    said = []
    for flag in ("draws_nitrogen", "lime", "feed"):
        for word in YES_OR_SO:
            here = [m for m in new if getattr(flags_of[m.key], flag) == word]
            if here and (flag == "draws_nitrogen" or flags_before[flag] != "yes"):
                keys = ";".join(_source_of(flags_of[m.key], flag) for m in here)
                said.append(_flag_words(flag, word).format(names=_names(here), source=_short(keys)))
    if unclean := [m for m in new if flags_of[m.key].hygiene == "treat first"]:
        said.append(
            _("Not clean: {names}; treat before anything is sown or struck in it.").format(
                names=_names(unclean)
            )
        )
    dusty = [m for m in new if flags_of[m.key].dust == "yes"]
    if dusty and flags_before["dust"] != "yes":
        said.append(
            _("Dusty: {names}; damp it before it is poured, and follow the rules of your workplace.").format(
                names=_names(dusty)
            )
        )
    for material in new:
        unknown = [
            words
            for flag, words in (
                ("lime", _("lime")),
                ("feed", _("plant food")),
                ("dust", _("dust")),
                ("hygiene", _("hygiene")),
                ("draws_nitrogen", _("nitrogen")),
            )
            if getattr(flags_of[material.key], flag) == "unknown"
        ]
        if unknown:
            said.append(
                _("Not known of {name}: {what}. Find out before you rely on it.").format(
                    name=material.title, what=", ".join(unknown)
                )
            )
    return said


def _flag_words(flag: str, word: str) -> str:
    """Return the sentence on materials that bring something, or may."""
    return {
        ("draws_nitrogen", "yes"): _(
            "Draws nitrogen as it breaks down: {names}; feed more from the start and watch for pale, stalled "
            "leaves [{source}]."
        ),
        ("draws_nitrogen", "sometimes"): _(
            "May draw nitrogen as it breaks down: {names}; watch for pale, stalled leaves and feed more then "
            "[{source}]."
        ),
        ("lime", "yes"): _(
            "Holds lime, which lifts the pH: {names}; keep it from plants that hate lime [{source}]."
        ),
        ("lime", "sometimes"): _(
            "May hold lime, which lifts the pH: {names}; drop vinegar on a pinch, and if it fizzes keep it "
            "from plants that hate lime [{source}]."
        ),
        ("feed", "yes"): _(
            "Brings plant food or salts of its own: {names}; test it, and hold back feed at first [{source}]."
        ),
        ("feed", "sometimes"): _(
            "May bring plant food or salts of its own: {names}; test it before you feed [{source}]."
        ),
    }[flag, word]


def _names(materials: "Sequence[Material]") -> str:
    return ", ".join(material.title for material in materials)


def _lasting(flags_before: Mapping[str, Any], flags: Mapping[str, Any]) -> list[str]:
    old, new = flags_before["years"], flags["years"]
    if old is None or new is None or old == new:
        return []
    if new < old:
        return [
            _("It lasts less long: {new:g} instead of {old:g} years at the least; plan to repot.").format(
                new=new, old=old
            )
        ]
    return [_("It lasts longer: {new:g} instead of {old:g} years at the least.").format(new=new, old=old)]


def _grown(before: "Parts", after: "Parts") -> "list[tuple[Material, float]]":
    """Return what the mix holds more of than before, and by how much of what is poured."""
    old_total, new_total = (sum(share for _m, share in parts) for parts in (before, after))
    old = {material.key: share / old_total for material, share in before}
    more = [(material, share / new_total - old.get(material.key, 0.0)) for material, share in after]
    return [(material, by) for material, by in more if by > 1e-9]


def _share_change(change: Change) -> str:
    return _("{new} instead of {old} ({points})").format(
        new=with_range(change.after), old=per_cent(change.before.value), points=_points(change.difference)
    )


def _points(difference: "Estimate") -> str:
    """Return a difference of shares with its range: “+4 points, 1 to 7”."""
    value, low, high = (round(100 * x) for x in (difference.value, difference.low, difference.high))
    return _("{value:+d} points, {low:+d} to {high:+d}").format(value=value, low=low, high=high)


def _kg(mass: "Estimate", times: float = 1.0) -> str:
    value = mass.value * times
    return f"{value:.2g}" if value < 10 else f"{value:.0f}"


def _source_of(flags: "MaterialFlags", flag: str) -> str:
    origin = flags.origin(flag)
    return origin.source if origin else flags.source


def _short(keys: str) -> str:
    """Return sources as they stand in a sentence: first author or publisher, and year; in full elsewhere."""
    said = []
    for key in keys.split(";"):
        found = source(key.strip())
        if found.kind == PUBLISHED:
            who = found.authors[0].split()[0] if found.authors else found.published_in or found.title
            said.append(f"{who} {found.year}".strip() if found.year and found.year != UNDATED else who)
        else:
            said.append({"memory": _("memory"), "common practice": _("common practice")}.get(found.kind, key))
    return "; ".join(dict.fromkeys(said))


def _opened(where: str, sentence: str) -> str:
    """Return a sentence after the name of its container, or with a capital where it has none."""
    return where + sentence if where else sentence[:1].upper() + sentence[1:]
