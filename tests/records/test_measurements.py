"""What was measured here lies over the table, until it is withdrawn in the open."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone
from tests import cast

from friable.errors import BadQuantity, BadRecipe, Refused
from friable.planning.forecast import forecast
from friable.records import actions, plain
from friable.records.models import Measurement
from friable.records.queries import measurements_of_container, measurements_of_material
from friable.reference.materials import find_material

pytestmark = pytest.mark.django_db

MARCH = datetime(2026, 3, 4, 10, tzinfo=UTC)


def test_a_measured_density_replaces_the_figure_of_the_table():
    bark = cast.bark()
    table = find_material("pine bark nursery")
    actions.measure_dry_bulk_density(
        bark,
        by=cast.HELPER,
        dry_bulk_density_g_cm3=0.205,
        dry_bulk_density_low_g_cm3=0.20,
        dry_bulk_density_high_g_cm3=0.21,
        done_at=MARCH,
        lot="Q-12",
    )

    ours = plain.material(bark)
    density = ours.dry_bulk_density_g_cm3
    assert (density.value, density.low, density.high, density.how_known) == (0.205, 0.20, 0.21, "measured")
    assert density.source == "measured here, 2026-03-04, JO"
    assert density.held_from == "2026-03-04"
    assert ours.physics.dry_bulk_density_g_cm3 == 0.205
    assert ours.total_porosity == table.total_porosity
    assert ours.origin("dry_bulk_density").how_known == "measured"


def test_the_newest_measurement_counts_and_a_withdrawn_one_does_not():
    bark = cast.bark()
    for day, value in ((1, 0.19), (3, 0.22), (2, 0.20)):
        actions.measure_dry_bulk_density(
            bark, by=cast.HELPER, dry_bulk_density_g_cm3=value, done_at=MARCH + timedelta(days=day)
        )
    assert plain.material(bark).dry_bulk_density_g_cm3.value == 0.22

    wrong = Measurement.objects.get(dry_bulk_density_g_cm3=0.22)
    actions.withdraw_measurement(wrong, by=cast.KEEPER, reason="the sample was wet")

    assert plain.material(bark).dry_bulk_density_g_cm3.value == 0.20
    assert (wrong.withdrawn_by, wrong.withdrawn_reason) == ("MK", "the sample was wet")
    assert measurements_of_material(bark).count() == 3
    with pytest.raises(Refused, match="withdrawn already"):
        actions.withdraw_measurement(wrong, by=cast.KEEPER, reason="again")


def test_a_density_of_solid_rock_is_refused():
    # Nursery bark has at least 0.75 of pores in the table: 0.25 of solids at 2.9 g/cm3 is 0.725 g/cm3.
    with pytest.raises(
        BadQuantity, match=r"is 0\.8 g/cm3; it must be at most 0\.7\d? g/cm3, where its solids"
    ):
        actions.measure_dry_bulk_density(cast.bark(), by=cast.HELPER, dry_bulk_density_g_cm3=0.8)

    assert not Measurement.objects.exists()


def test_our_own_material_is_forecast_under_its_own_name():
    ours = actions.add_material("Moorside bark", by=cast.KEEPER, table_key="BKP_M")
    actions.measure_dry_bulk_density(ours, by=cast.HELPER, dry_bulk_density_g_cm3=0.2)
    version = actions.write_mix(
        cast.recipe("two barks", (1, "Moorside bark"), (1, "pine bark nursery")), by=cast.KEEPER
    )

    parts = plain.resolve_parts(version)

    assert [material.title for material, _share in parts] == ["Moorside bark", "pine bark nursery 0-12 mm"]
    assert len({material.key for material, _share in parts}) == 2
    answer = forecast(parts, plain.container(cast.two_litre_pot()), samples=0)
    assert 0 < answer.air_space.value < 1


def test_a_material_of_which_nothing_is_known_is_not_forecast():
    actions.add_material("mystery dust", by=cast.KEEPER)
    version = actions.write_mix(cast.recipe("mystery", (1, "mystery dust")), by=cast.KEEPER)

    with pytest.raises(
        BadRecipe, match="Nothing is known of mystery dust: it rests on no material of the table"
    ):
        plain.resolve_parts(version)


def test_a_measured_pot_volume_scales_the_container():
    pot = cast.two_litre_pot()
    assert plain.container(pot).brim_volume_l == pytest.approx(2.17, abs=0.01)  # frustum by hand, 2.1659

    measured = actions.measure_pot_volume(pot, by=cast.HELPER, brim_l=2.05)
    assert plain.container(pot).brim_volume_l == pytest.approx(2.05)

    actions.withdraw_measurement(measured, by=cast.KEEPER, reason="it leaked")
    pot.refresh_from_db()
    assert pot.measured_volume_l is None
    assert measurements_of_container(pot).count() == 1


def test_a_pot_volume_far_from_its_measures_is_refused():
    pot = cast.two_litre_pot()

    with pytest.raises(
        BadQuantity, match=r"the volume of 2 L pot is 21 L; it must be within half and double"
    ):
        actions.measure_pot_volume(pot, by=cast.HELPER, brim_l=21)

    pot.refresh_from_db()
    assert pot.measured_volume_l is None


def test_a_measured_mix_volume_teaches_the_pair():
    bark = cast.bark()
    sand = actions.use_material("horticultural sand medium", by=cast.KEEPER)
    version = actions.write_mix(cast.recipe("bark and sand", (3, bark.name), (1, sand.name)), by=cast.KEEPER)
    assert plain.pair_overlap_loss(version) == {}

    actions.measure_mix_volume(bark, sand, by=cast.HELPER, material_l=15, other_material_l=5, mixed_l=18.5)

    [(pair, loss)] = plain.pair_overlap_loss(version).items()
    assert pair == {"BKP_M", "SAND_M"}
    # What was measured comes back: 18.5 L out of 20 L is a shrinkage of 7.5 %.
    learned = forecast(
        plain.resolve_parts(version),
        plain.container(cast.two_litre_pot()),
        samples=0,
        pair_overlap_loss={pair: loss},
    )
    assert learned.shrinkage.value == pytest.approx(0.075, abs=1e-6)


@pytest.mark.parametrize("mixed_l", [20.5, 3.0])
def test_a_mix_volume_that_cannot_be_is_refused(mixed_l):
    bark = cast.bark()
    sand = actions.use_material("horticultural sand medium", by=cast.KEEPER)

    with pytest.raises(BadQuantity, match=r"must be at most the sum of the parts \(20 L\) and at least"):
        actions.measure_mix_volume(
            bark, sand, by=cast.HELPER, material_l=15, other_material_l=5, mixed_l=mixed_l
        )

    assert not Measurement.objects.exists()


def test_a_mix_volume_needs_two_materials():
    bark = cast.bark()

    with pytest.raises(Refused, match="A mix volume needs two different materials"):
        actions.measure_mix_volume(bark, bark, by=cast.HELPER, material_l=15, other_material_l=5, mixed_l=18)


def test_a_pot_test_is_kept_with_what_the_pot_held():
    pot = cast.round_pot("test pot", 15, 11, 12.5)
    test = actions.measure_pot_test(
        pot,
        by=cast.PROPAGATOR,
        headspace_cm=1.0,
        water_in_l=1.110,
        drained_l=0.270,
        mix_version=cast.potting_on(),
    )

    assert str(test) == "pot test: potting-on bark, version 1, test pot"


@pytest.mark.parametrize(
    ("values", "refusal", "said"),
    [
        (
            {"water_in_l": 0.2, "drained_l": 0.27},
            Refused,
            "that drained must be less than the water that went in",
        ),
        (
            {"water_in_l": 1.6, "drained_l": 0.27},
            BadQuantity,
            r"below the filled volume of the container \(1\.5 L\)",
        ),
        ({"water_in_l": 1.1, "drained_l": -0.1}, BadQuantity, "water drained is -0.1 L"),
    ],
)
def test_an_impossible_pot_test_is_refused(values, refusal, said):
    pot = cast.round_pot("test pot", 15, 11, 12.5)

    with pytest.raises(refusal, match=said):
        actions.measure_pot_test(pot, by=cast.PROPAGATOR, headspace_cm=1.0, **values)

    assert not Measurement.objects.exists()


def test_a_measured_pack_yield_replaces_the_range():
    peat = actions.use_material("sphagnum peat medium", by=cast.BUYER)
    pack = actions.add_pack(
        peat, "bale", by=cast.BUYER, declared_l=107.6, yield_low=1.34, yield_high=2.0, yield_source="S55, S53"
    )
    thought = plain.pack_yield(pack, None)
    assert (thought.low, thought.high, thought.how_known) == (1.34, 2.0, "estimated")

    measured = actions.measure_pack_yield(pack, by=cast.HELPER, loose_l=215.2, done_at=MARCH)
    known = plain.pack_yield(pack, measured)
    assert (known.value, known.how_known) == (pytest.approx(2.0), "measured")
    assert known.source == "measured here, 2026-03-04, JO"


def test_a_yield_nobody_knows_stays_unknown():
    pack = actions.add_pack(cast.bark(), "bag", by=cast.BUYER, declared_l=70)

    assert plain.pack_yield(pack, None) is None


def test_nothing_is_measured_in_the_future():
    with pytest.raises(Refused, match=r"The time of the measurement is .* still to come"):
        actions.measure_dry_bulk_density(
            cast.bark(),
            by=cast.HELPER,
            dry_bulk_density_g_cm3=0.2,
            done_at=timezone.now() + timedelta(days=1),
        )


def test_shares_count_what_is_poured_as_worked_by_hand():
    # Worked by hand: 3 A + 1 grit base, shrinkage 6, 8 and 3 %: 45.6/22.8/7.6/12.0/12.0 % of what is poured.
    shares = [share for _material, share in plain.resolve_parts(cast.nested_mix())]

    assert shares == pytest.approx([0.456, 0.228, 0.076, 0.120, 0.120], abs=5e-4)
