"""What is said of a stand-in: to the person who waters, and of nitrogen, lime, salts, dust, years, weight."""

import pytest
from replacing_asked import POT, case, parts

from friable.planning.replacing import replace

PEAT_MIX = parts(PEAT_M=3, PERL_C=1)


def told(mix, without, put, **of):
    """Return the candidate with one material in the place of another."""
    answer = replace(case(mix, without, [put], **of), search=False)
    return answer.candidates[0]


def has(sentences, *words):
    return any(all(word in sentence for word in words) for sentence in sentences)


@pytest.mark.parametrize(
    ("without", "put", "words"),
    [
        ("PEAT_M", "WOODF", ("Draws nitrogen as it breaks down: wood fibre", "feed more", "[Jackson 2009")),
        ("PEAT_M", "BKP_M", ("May draw nitrogen as it breaks down: pine bark nursery 0-12 mm",)),
        ("PERL_C", "OYST", ("Holds lime, which lifts the pH: crushed oyster shell 2-6 mm",)),
        ("PERL_C", "SAND_C", ("May hold lime", "horticultural sand coarse 0.5-2 mm", "vinegar")),
        ("PEAT_M", "COIR_P", ("May bring plant food or salts of its own: coir pith 0-5 mm",)),
        ("PEAT_M", "GWC", ("Not clean: composted green waste 0-10 mm", "treat before")),
        ("PEAT_M", "COIR_P", ("surface can look dry", "[Royal Horticultural Society]")),
    ],
)
def test_what_to_watch(without, put, words):
    assert has(told(PEAT_MIX, without, put).watch, *words)


def test_what_a_mix_already_has_is_not_said_again():
    limed = parts(PEAT_M=2, LIMG=1, PERL_C=1)

    assert not has(told(limed, "PERL_C", "OYST").watch, "ime")
    assert not has(told(PEAT_MIX, "PERL_C", "PUM_S").watch, "Dusty")  # perlite was dusty as well
    assert has(told(parts(PEAT_M=3, FOAM=1), "FOAM", "PUM_S").watch, "Dusty: pumice 2-4 mm", "damp it")


def test_grit_in_the_place_of_peat_is_watered_sooner_and_carried_with_more_care():
    one = told(parts(PEAT_M=1, PERL_C=1), "PEAT_M", "GRIT")
    pot = one.pots[0]

    assert pot.water_lasts.value < 0.9
    assert has(one.watch, "Water sooner: what lasted 7 days lasts about")
    assert has(one.changes, "10 L to carry")
    assert pot.changes["wet_mass_kg"].after.value > pot.changes["wet_mass_kg"].before.value


def test_the_days_go_with_the_available_water_of_the_pot():
    # By hand: the same use, so the days are in proportion to what the pot gives.
    one = told(PEAT_MIX, "PEAT_M", "BKP_M")
    available = one.pots[0].changes["available_water"]
    ratio = available.after.value / available.before.value

    assert one.pots[0].water_lasts.value == pytest.approx(ratio)
    assert has(one.watch, f"lasts about {7 * ratio:.2g} days (")


def test_a_part_that_rots_sooner_is_told():
    one = told(parts(PERL_C=1, GRIT=1), "PERL_C", "BKE_S")

    assert one.flags_before["years"] == 3
    assert one.flags["years"] == 1
    assert has(one.watch, "It lasts less long: 1 instead of 3 years at the least")


def test_less_air_is_told_with_what_to_do():
    assert has(told(parts(BKP_M=4, PERL_C=1), "PERL_C", "SAND_F").watch, "Less air after a watering", "drain")


def test_a_warning_of_the_forecast_is_passed_on():
    assert has(told(parts(SAND_F=3, PERL_C=1), "PERL_C", "SAND_M").watch, "Less than 5 % air")


def test_a_material_of_one_s_own_says_what_nobody_knows_of_it():
    from dataclasses import replace as with_changes

    from friable.planning.at_hand import AtHand
    from friable.reference.material_flags import material_flags

    asked = case(PEAT_MIX, "PERL_C", ["PUM_S"])
    pumice = asked.at_hand[0].material
    own = with_changes(pumice, key="OWN_1", name="our river pumice", grade="")
    own_flags = with_changes(
        material_flags(pumice), key="OWN_1", dust="unknown", hygiene="unknown", draws_nitrogen="unknown"
    )
    asked = with_changes(asked, at_hand=(AtHand(material=own, flags=own_flags),))

    watch = replace(asked, search=False).candidates[0].watch

    assert has(watch, "Not known of our river pumice: dust, hygiene, nitrogen. Find out")


def test_once_dry_it_sheds_or_takes_water_up_again():
    assert has(told(parts(PERL_C=1, GRIT=1), "PERL_C", "PEAT_M").watch, "Once dry, sphagnum peat medium")
    assert has(told(PEAT_MIX, "PEAT_M", "PERL_M").watch, "takes water up again more readily")


def test_one_container_needs_no_name():
    one = told(PEAT_MIX, "PEAT_M", "COIR_P")

    assert not has((*one.changes, *one.watch), f"In {POT.describe()}")


def test_where_nothing_stays_there_is_no_rest_to_keep():
    assert told(parts(GRAV=1), "GRAV", "PUM_L").keeps_rest is False
    assert told(PEAT_MIX, "PEAT_M", "COIR_P").keeps_rest is True
