"""Which sayings are computed, by what, and what each is asked of."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from friable.errors import BadQuantity, Refused
from friable.planning.sayings import (
    additions,
    amounts,
    filling,
    lasting,
    layers,
    mixing,
    peat_free,
    pots,
    sizes,
)
from friable.planning.sayings.values import NOT_COMPUTED, Asked, SayingAnswer, SayingCase, Told
from friable.reference.sayings import Saying, evidence_for
from friable.science.containers import Container
from friable.wording import gettext as _

LARGEST_SHARE = 0.9


@dataclass(frozen=True, slots=True)
class Computation:
    """What answers a saying, and what it is asked of."""

    compute: Callable[[SayingCase], Told]
    asked: Callable[[], Asked]


@cache
def computations() -> dict[str, Computation]:
    """Return what answers each saying that is computed, by its key."""
    return {
        "mixing-shrinks": Computation(mixing.mixing_shrinks, mixing.asked_of_shrinkage),
        "parts-add-up": Computation(mixing.parts_add_up, mixing.asked_of_sum),
        "part-is-a-part": Computation(mixing.part_is_a_part, mixing.asked_of_states),
        "mix-until-even": Computation(mixing.mix_until_even, mixing.asked_of_evenness),
        "sand-opens-bark": Computation(additions.sand_opens_bark, additions.asked_of_sand),
        "coarse-third": Computation(additions.coarse_third, additions.asked_of_coarse),
        "perlite-adds-air": Computation(additions.perlite_adds_air, additions.asked_of_perlite),
        "air-for-water": Computation(additions.air_for_water, additions.asked_of_air_for_water),
        "bark-gets-finer": Computation(lasting.bark_gets_finer, lasting.asked_of_finer),
        "packing-halves-air": Computation(filling.packing_halves_air, filling.asked_of_pressing),
        "smaller-cell-moister": Computation(filling.smaller_cell_moister, filling.asked_of_moisture),
        "gravel-drains": Computation(layers.gravel_drains, layers.asked_of_gravel),
        "gravel-lifts-wet-zone": Computation(layers.gravel_lifts_wet_zone, layers.asked_of_gravel),
        "half-filler": Computation(layers.half_filler, layers.asked_of_filler),
        "shallow-wetter": Computation(pots.shallow_wetter, pots.asked_of_shallow),
        "same-wet-zone": Computation(pots.same_wet_zone, pots.asked_of_wet_zone),
        "coarse-no-wet-zone": Computation(pots.coarse_no_wet_zone, pots.asked_of_even_grains),
        "air-10-25": Computation(pots.air_10_25, pots.asked_of_target),
        "one-size-up": Computation(sizes.one_size_up, sizes.asked_of_next_size),
        "gallon-pot": Computation(sizes.gallon_pot, sizes.asked_of_gallon),
        "same-name-pots": Computation(sizes.same_name_pots, sizes.asked_of_names),
        "litre-is-a-kilo": Computation(amounts.litre_is_a_kilo, amounts.asked_of_weight),
        "bale-doubles": Computation(amounts.bale_doubles, amounts.asked_of_bale),
        "brick-8-11": Computation(amounts.brick_8_11, amounts.asked_of_brick),
        "peat-free-dries-faster": Computation(peat_free.peat_free_dries_faster, peat_free.asked_of_drying),
        "peat-free-varies": Computation(peat_free.peat_free_varies, peat_free.asked_of_varying),
        "repot-1-3-years": Computation(lasting.repot_1_3_years, lasting.asked_of_repotting),
    }


def asked_of(saying: Saying) -> Asked:
    """Return what a saying is asked of; nothing where it is not computed."""
    found = computations().get(saying.key)
    return found.asked() if found else Asked()


def answer(saying: Saying, case: SayingCase) -> SayingAnswer:
    """Answer a saying for the user's own materials and containers.

    Raises
    ------
    Refused, BadQuantity
        If it is given too few or too many media, lacks what it is asked of, or the case is impossible.
    """
    evidence = evidence_for(saying.key)
    found = computations().get(saying.key)
    if found is None:
        told = Told(verdict=NOT_COMPUTED, answer=saying.why_not, numbers=())
        return SayingAnswer(saying=saying, case=None, told=told, evidence=evidence)
    _check(saying, found.asked(), case)
    told = found.compute(case)
    sentence = told.answer[:1].upper() + told.answer[1:]
    return SayingAnswer(saying=saying, case=case, told=replace(told, answer=sentence), evidence=evidence)


def _check(saying: Saying, asked: Asked, case: SayingCase) -> None:
    least, most, given = 1 if asked.most_media else len(asked.media), asked.most, len(case.media)
    if not least <= given <= most:
        roles = "; ".join(role.words for role in asked.media)
        raise Refused(
            _("The saying {name} is asked of {roles}: {given} given, {least} to {most} wanted.").format(
                name=saying.key, roles=roles, given=given, least=least, most=most
            )
            if least != most
            else _("The saying {name} is asked of {most}: {roles}; {given} given.").format(
                name=saying.key, most=most, roles=roles, given=given
            )
        )
    for role, medium in zip(asked.media, case.media, strict=False):
        if role.one_material and medium.single is None:
            raise Refused(
                _("“{name}” must be one material here: it stands for {role}.").format(
                    name=medium.name, role=role.words
                )
            )
    if asked.container is not None and asked.container_needed:
        _is_there(case.pot)
    if asked.other is not None:
        _is_there(case.other_pot)
    if asked.share is not None and not 0 < case.a_share <= LARGEST_SHARE:
        raise BadQuantity(
            asked.share_words or _("the share"),
            100 * case.a_share,
            "%",
            _("above 0 and at most {most:g} %").format(most=100 * LARGEST_SHARE),
        )
    if asked.layer is not None and not case.a_layer > 0:
        raise BadQuantity(_("the thickness of the layer"), case.a_layer, "cm", _("above 0"))
    if asked.need is not None and not case.a_need > 0:
        raise BadQuantity(_("the need"), case.a_need, "L", _("above 0"))


def _is_there(_container: Container) -> None:
    """Ask for a container; the case refuses where it has none."""
