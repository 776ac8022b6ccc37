"""The fewest mixes of a collection: what is kept, what can go, who is left and why, what was proved.

Groups and chances are invented here, so that the answers can be worked out by hand.
"""

import math

import pytest

from friable.errors import BadQuantity
from friable.planning.at_hand import AtHand
from friable.planning.collection_values import Mix
from friable.planning.container_text import parse_container
from friable.planning.fewest import fewest
from friable.planning.fewest_recipes import Recipe, Sought
from friable.planning.fewest_values import FewestCase, Fit, PotLine, Stand, Stands
from friable.planning.find_values import Cancelled, FindAnswer, Opening
from friable.reference.material_flags import material_flags
from friable.reference.materials import find_material
from friable.reference.plant_groups import PlantGroup
from friable.reference.windows import Window

POT = parse_container("round 13/10/11 cm")
AIR = Window(quantity="air_space", low=0.2, high=0.35, how_known="common practice", source="memory")
BARK, PEAT, GRIT = (find_material(n) for n in ("pine bark nursery", "sphagnum peat medium", "perlite coarse"))


def group(name, windows=(AIR,)):
    return PlantGroup(
        key=name, group=name, stage="grown", container="round 13/10/11 cm", watered="anyone", windows=windows
    )


def mix(name, *shares):
    return Mix(name, tuple(zip((BARK, PEAT, GRIT), shares, strict=True)))


PAN, SHRUB, ORCHID, MOSS = group("pan"), group("shrub"), group("orchid"), group("moss", ())
OLD, HEAVY, NEW = mix("old mix", 5, 1, 1), mix("heavy mix", 1, 5, 1), mix("spare mix", 1, 1, 5)
CHANCES = {
    ("old mix", "pan"): 0.7, ("old mix", "shrub"): 0.6,
    ("heavy mix", "shrub"): 0.9,
    ("spare mix", "orchid"): 0.8,
}  # fmt: skip


def judge(mix, stand):
    chance = CHANCES.get((mix.title, stand.group.group))
    if chance is None:
        return Fit(
            keeps=False,
            chance=None,
            outside=("air 12 %, below 20 to 35 %",),
            distance=len(mix.title),
            figures={},
        )
    return Fit(keeps=True, chance=chance, figures={"air_space": 0.25})


def nothing_sought(case, **_told):
    return Sought((), {})


def nothing_found(question, **_told):
    return FindAnswer(
        considered=9, pruned=0, feasible=0, chances_of=0, draws=256, best=(), front=(), nearest=(),
        openings=(
            Opening(quantity="air_space", end="low", asked=0.2, needed=0.18, recipe="", said="air from 18 %"),
        ),
        windows=question.windows, container=question.container, warnings=(),
    )  # fmt: skip


def stands(*lines):
    """Lines of (group, count, mix)."""
    kinds = list(dict.fromkeys(line[0].key for line in lines))
    by_key = {line[0].key: line[0] for line in lines}
    return Stands(
        tuple(
            PotLine(n, kinds.index(of.key), count, present)
            for n, (of, count, present) in enumerate(lines, start=2)
        ),
        tuple(Stand(by_key[key], POT, "the pot") for key in kinds),
    )


def asked(*lines, seeker=nothing_sought, **options):
    return fewest(
        FewestCase(stands=stands(*lines), **options), seeker=seeker, finder=nothing_found, judge=judge
    )


def at_hand(*materials):
    return tuple(AtHand(material=one, flags=material_flags(one)) for one in materials)


def test_one_mix_keeps_two_groups_and_the_other_can_go():
    answer = asked((PAN, 10, OLD), (SHRUB, 40, HEAVY))

    assert [mix.name for mix in answer.kept] == ["old mix"]
    assert answer.can_go == (("heavy mix", 40),)
    assert [(one.stand.group.group, one.pots, one.stays, one.chance) for one in answer.served] == [
        ("pan", 10, True, 0.7),
        ("shrub", 40, False, 0.6),
    ]
    assert (answer.staying, answer.served_pots, answer.least_chance) == (10, 50, 0.6)
    assert (answer.proof.fewest, answer.proof.bound, answer.proof.proved) == (1, 1, True)
    assert answer.proof.said == "Proved: one mix is the fewest there can be."
    assert answer.reading == (
        "One mix keeps all 2 groups in their pots within their windows: old mix. Of 2 mixes in use 1 can go. "
        "10 of 50 pots stay on the mix that they are on."
    )


def test_a_higher_least_chance_asks_for_more_mixes():
    answer = asked((PAN, 10, OLD), (SHRUB, 40, HEAVY), least_chance=0.65)

    assert [mix.name for mix in answer.kept] == ["heavy mix", "old mix"]
    assert answer.staying == 50
    assert answer.can_go == ()
    assert answer.proof.said == "Proved: of the 2 mixes looked at, no single one keeps them all."


def test_a_mix_that_is_given_serves_a_group_that_no_present_one_keeps():
    answer = asked((PAN, 10, OLD), (ORCHID, 5, OLD), given=(NEW,))

    assert [(mix.name, mix.candidate.origin) for mix in answer.kept] == [
        ("old mix", "present"),
        ("spare mix", "given"),
    ]
    [orchids] = answer.kept[1].served
    assert orchids.before == "old mix"
    assert orchids.why_not_before == ("air 12 %, below 20 to 35 %",)


def test_a_group_without_a_window_is_left_and_its_mix_stays_and_serves():
    answer = asked((MOSS, 7, OLD), (SHRUB, 40, HEAVY), (PAN, 1, HEAVY))

    assert [mix.name for mix in answer.kept] == ["old mix"]
    [left] = answer.no_window
    assert (left.stand.group.group, left.pots, left.mixes) == ("moss", 7, ("old mix",))
    assert answer.kept[0].left == (left,)
    assert "One group has no window and is left on its mix." in answer.remarks
    assert answer.can_go == (("heavy mix", 41),)


def test_a_group_that_nothing_keeps_is_named_with_the_nearest_and_why():
    answer = asked((ORCHID, 5, HEAVY), (PAN, 10, OLD), at_hand=at_hand(BARK))

    [left] = answer.cannot
    assert (left.stand.group.group, left.pots, left.mixes) == ("orchid", 5, ("heavy mix",))
    assert (left.nearest, left.chance) == ("old mix", None)
    assert left.why == ("air 12 %, below 20 to 35 %",)
    assert left.openings == ("air from 18 %",)
    # heavy mix serves nobody but stays, since the orchids are left on it
    assert [(mix.name, len(mix.served)) for mix in answer.kept] == [("heavy mix", 0), ("old mix", 1)]
    assert answer.can_go == ()


def test_too_small_a_chance_is_told_as_such():
    answer = asked((SHRUB, 5, OLD), least_chance=0.95)

    [left] = answer.cannot
    assert (left.nearest, left.chance, left.why) == ("old mix", 0.6, ())


def test_recipes_that_were_found_are_candidates_and_the_shared_one_wins():
    shared = Recipe(((BARK, 3), (GRIT, 1)), {0: 0.75, 1: 0.75})
    own = Recipe(((PEAT, 3), (GRIT, 1)), {1: 0.99})
    calls = []

    def seeker(case, **_told):
        calls.append(case)
        return Sought((own, shared), {})

    answer = asked((ORCHID, 5, OLD), (PAN, 10, None), seeker=seeker, at_hand=at_hand(BARK, PEAT, GRIT))

    assert len(calls) == 1
    assert [(mix.name, mix.candidate.origin, mix.pots) for mix in answer.kept] == [(shared.text, "found", 15)]
    assert answer.candidates == {"present": 1, "given": 0, "found": 2}
    assert answer.kept[0].candidate.shares == ((BARK.title, 0.75), (GRIT.title, 0.25))


def test_pots_whose_mix_is_not_said_count_as_moving_and_that_is_said():
    answer = asked((PAN, 10, None), (PAN, 5, OLD), given=(OLD,))

    assert answer.staying == 5
    assert any("Of 10 pots the present mix is not said" in said for said in answer.warnings)


def test_two_mixes_of_one_name_are_told_apart():
    other = mix("old mix", 1, 1, 1)

    answer = asked((PAN, 10, OLD), (SHRUB, 40, other))

    assert answer.present == ("old mix", "old mix (2)")


def test_what_is_not_proved_in_time_is_said():
    three = [group(f"group {n}") for n in range(6)]
    recipes = (
        Recipe(((BARK, 1),), {0: 0.75, 1: 0.75, 2: 0.75}),
        Recipe(((PEAT, 1),), {3: 0.75, 4: 0.75, 5: 0.75}),
        Recipe(((GRIT, 1),), {0: 0.9, 1: 0.9, 3: 0.9, 4: 0.9}),
    )

    answer = asked(
        *((one, 1, None) for one in three), seeker=lambda _case, **_told: Sought(recipes, {}), longest_s=1e-9
    )

    assert (answer.proof.fewest, answer.proof.bound, answer.proof.proved) == (3, 1, False)
    assert answer.proof.said == (
        "Not proved in the time there was: 3 mixes do, and the fewest lies between 1 and 3. Give it more "
        "time."
    )


@pytest.mark.parametrize("least", [0, -0.1, 1.01, math.nan])
def test_a_least_chance_that_is_none_is_refused(least):
    with pytest.raises(BadQuantity, match="the least chance"):
        asked((PAN, 10, OLD), least_chance=least)


def test_it_can_be_stopped():
    with pytest.raises(Cancelled):
        fewest(
            FewestCase(stands=stands((PAN, 10, OLD))),
            seeker=nothing_sought,
            judge=judge,
            cancelled=lambda: True,
        )


def test_programs_get_the_whole_answer():
    told = asked((MOSS, 7, HEAVY), (ORCHID, 5, OLD), (PAN, 10, OLD)).to_json()

    assert told["fewest"] == len(told["mixes"]) == 2
    assert told["mixes"][0]["stays_for"] == ["moss, grown, in the pot"]
    assert told["mixes"][1]["serves"][0] | {"figures": {}} == {
        "group": "pan, grown", "container": "the pot", "windows": ["air_space"], "pots": 10,
        "before": "old mix", "mix": "old mix", "stays": True, "chance": 0.7, "figures": {},
        "chance_before": 0.7, "before_is_outside": [],
    }  # fmt: skip
    assert told["no_window"][0]["group"] == "moss, grown"
    assert told["cannot"][0]["nearest"] == "old mix"
    assert told["proof"]["proved"] is True
    assert told["pots"] == 22
