"""What each command answers: its keys for programs, its words for people."""

import io
import sys

import pytest

BARK_MIX = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 17/12/13 cm", "--headspace", "1.5cm")
ESTIMATES = (
    "total_porosity", "container_capacity", "air_space", "available_water", "easily_available_water",
    "dry_bulk_density_g_cm3", "wet_mass_kg", "shrinkage",
)  # fmt: skip
HOW_KNOWN = {"computed", "measured", "published", "estimated", "memory", "common practice"}
ONE_PER_CENT = 0.01


def is_estimate(figure):
    return (
        set(figure) == {"value", "low", "high", "how_known", "source"}
        and figure["low"] <= figure["value"] <= figure["high"]
        and figure["how_known"] in HOW_KNOWN
        and bool(figure["source"])
    )


def test_a_mix_is_answered_with_every_key(answer):
    mix = answer("mix", BARK_MIX, *POT)

    assert all(is_estimate(mix[key]) for key in ESTIMATES)
    assert all(is_estimate(mix["plain_average"][key]) for key in ESTIMATES)
    assert mix["supported_by"].startswith("pine bark")
    assert "switch_at" in mix
    assert mix["widest_input"]
    bottom, top = mix["profile"][0], mix["profile"][-1]
    assert (bottom["height_cm"], top["height_cm"]) == (0, 11.5)
    assert bottom["water_low"] <= bottom["water"] <= bottom["water_high"]
    assert bottom["air"] < top["air"]


def test_parts_and_per_cent_are_the_same_mix(answer):
    parts = answer("mix", "3 pine bark nursery + 1 perlite coarse", *POT)
    per_cent = answer("mix", "25% perlite coarse, 75% pine bark nursery", *POT)

    assert parts["air_space"] == per_cent["air_space"]


def test_without_ranges_the_middle_stays(answer):
    wide, bare = answer("mix", BARK_MIX, *POT), answer("mix", BARK_MIX, *POT, "--no-range")

    assert bare["air_space"]["value"] == wide["air_space"]["value"]
    assert bare["air_space"]["low"] == bare["air_space"]["high"]


def test_a_mix_for_people_says_the_pot_first_and_how_far_to_trust_it(friable):
    code, out, err = friable("mix", BARK_MIX, *POT)

    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "round 17/12/13 cm, 1.5 cm headspace, 1.84 L of mix"
    assert "plain average" in out
    assert "test a pot" in out


def test_a_layer_is_told_with_both_bounds_and_both_sides(answer, friable):
    arguments = ("mix", BARK_MIX, "--container", "round 12/9/12 cm", "--drainage-layer", "3 cm gravel")
    bounds = answer(*arguments)["layer_bounds"]
    _code, out, _err = friable(*arguments)

    # 0.207 of 1.046 L by the frustum rule, by hand.
    assert bounds["lost_volume_share"] == pytest.approx(0.20, abs=0.005)
    assert "On drainage layers" in out


def test_a_nested_recipe_file_is_forecast_by_its_materials(answer, tmp_path):
    file = tmp_path / "mix.toml"
    file.write_text(
        '[mix.a]\nparts = [["b", 1], ["perlite coarse", 1]]\n[mix.b]\nparts = [["pine bark nursery", 2]]\n'
    )
    nested = answer("mix", "--recipe", str(file), *POT)
    flat = answer("mix", "1 pine bark nursery + 1 perlite coarse", *POT)

    assert nested["air_space"] == flat["air_space"]


def test_a_job_is_answered_with_every_key(answer):
    # By hand: 1.84 L to the line, 0.32 L root ball, 1.52 L new, 91.2 L, 95.7 L, 108.8 L in 5:1:1.
    job = answer(
        "job", "--into", "round 17/12/13 cm", "--headspace", "1.5cm", "--potted-from", "round 9/6/8.5 cm",
        "--potted-from-headspace", "1cm", "--count", "60", "--overage", "5%", "--shrinkage", "12%",
        "--settling", "0%", "--bucket", "12L", "--mixer", "60L", BARK_MIX,
    )  # fmt: skip

    for key, expected in {
        "fill_volume_l": 1.84,
        "root_ball_l": 0.32,
        "new_mix_per_pot_l": 1.52,
        "net_l": 91.2,
        "with_overage_l": 95.7,
        "sum_of_parts_l": 108.8,
    }.items():
        assert job[key] == pytest.approx(expected, rel=ONE_PER_CENT)
    assert [line["material"] for line in job["lines"]] == [
        "pine bark nursery",
        "sphagnum peat medium",
        "perlite coarse",
    ]
    assert [line["buckets"] for line in job["lines"]] == [6, 1, 1]
    assert [line["remainder_l"] for line in job["lines"]] == pytest.approx([5.7, 3.5, 3.5], abs=0.06)
    assert job["stages"][0]["shrinkage"] == 0.12
    assert job["batches"]["batches"] == 2


def test_a_job_for_people_adds_up_as_printed(friable):
    _code, out, _err = friable("job", "--litres", "240", "1 sand x + 1 grit x + 1 loam x", "--bucket", "12L")
    rows = [line.split() for line in out.splitlines() if line.endswith(")") or line.startswith("sum")]
    printed = [float(row[row.index("L") - 1]) for row in rows]

    assert sum(printed[:-1]) == pytest.approx(printed[-1])
    assert "(as typed)" in out


def test_litres_may_be_typed_bare(answer):
    assert answer("job", "1 sand x", "--litres", "240")["net_l"] == 240
    assert answer("job", "1 sand x", "--litres", "1 m3")["net_l"] == 1000


def test_several_kinds_of_pots_come_from_a_list(answer, tmp_path):
    file = tmp_path / "pots.csv"
    file.write_text(
        "container;count;headspace;potted_from;root\n"
        "round 17/12/13 cm;60;1,5 cm;round 9/6/8.5 cm;root ball\n"
        "tray 50x30x4 cm;3;;;\n"
    )
    job = answer("job", "1 sand x", "--pots", str(file))

    # Two lines: (1.84 - 0.38) × 60 and 3 × 6.0 L. By hand.
    assert [pot["count"] for pot in job["pots"]] == [60, 3]
    assert job["net_l"] == pytest.approx(60 * (1.839 - 0.380) + 18, rel=ONE_PER_CENT)
    assert job["fill_volume_l"] is None


def test_a_recipe_comes_from_standard_input(answer, monkeypatch):
    text = '[mix.a]\nparts = [["sand x", 1]]\nshrinkage = 0.5\n'
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))

    assert answer("job", "--litres", "10", "--recipe", "-")["sum_of_parts_l"] == 20


def test_a_published_recipe_brings_its_amendments_and_its_conflict(answer, friable):
    job = answer("job", "--litres", "84", "--published", "john-innes-2")
    _code, out, _err = friable("job", "--litres", "84", "--published", "john-innes-2")

    # 84 L × 2.4, 2.4, 1.2 and 0.6 g/L. By hand.
    assert [line["grams"] for line in job["amendments"]] == pytest.approx([201.6, 201.6, 100.8, 50.4])
    assert "about 101 g" in out


def test_materials_are_listed_with_their_figures(answer, friable):
    found = answer("materials", "perlite")["materials"]
    _code, out, _err = friable("materials", "perlite")

    assert {material["name"] for material in found} >= {"perlite"}
    assert all(is_estimate(material["total_porosity"]) for material in found)
    assert len(answer("materials")["materials"]) > len(found)
    assert "perlite coarse" in out


@pytest.mark.parametrize(("typed", "packs", "loose"), [("2.0", 1, 215), ("1.34", 2, 144)])
def test_packs_at_a_measured_yield(answer, typed, packs, loose):
    # 3.8 × 28.317 = 107.6 L; × 2.0 = 215, × 1.34 = 144 L against 168. By hand.
    order = answer("packs", "sphagnum peat", "--need", "168L", "--pack", "3.8 cu ft", "--yield", typed)

    assert order["packs"] == packs
    assert order["loose_l_per_pack"] == pytest.approx(loose, abs=0.5)


@pytest.mark.parametrize("typed", ["62.5", "62.5 L", "12.5 L/kg"])
def test_a_pack_sold_by_weight_gives_litres_a_pack(answer, typed):
    # 124.9 L of 62.5 L a block: two, just. By hand.
    order = answer("packs", "coir pith", "--need", "124.9L", "--pack", "5 kg", "--yield", typed)

    assert order["packs"] == 2
    assert order["loose_l_per_pack"] == pytest.approx(62.5)


def test_packs_without_a_measured_yield(answer):
    order = answer("packs", "sphagnum peat", "--need", "168L", "--pack", "3.8 cu ft")

    assert order["packs"] == 2
    assert is_estimate(order["loose_l_per_pack"])
    assert "measure it loose" in order["advice"]


def test_a_pot_test_in_its_own_depth_and_another(answer, friable):
    arguments = (
        "pot-test", "--container", "round 15/11/12.5 cm", "--headspace", "1cm", "--water-in", "1110mL",
        "--drained", "270mL", "--also-in", "tray 50x30x4 cm",
    )  # fmt: skip
    test = answer(*arguments)
    _code, out, _err = friable(*arguments)

    # 1.110, 0.270 and 0.840 L of 1.499 L. By hand, to 1 %.
    assert test["total_porosity"] == pytest.approx(0.74, abs=0.005)
    assert test["air_space"] == pytest.approx(0.18, abs=0.005)
    assert test["container_capacity"] == pytest.approx(0.56, abs=0.005)
    assert test["column_height_cm"] == 11.5
    assert is_estimate(test["also_in"]["air_space"])
    assert test["also_in"]["air_space"]["high"] < 0.18
    assert "Valid for a column of 11.5 cm only" in out


@pytest.mark.parametrize(
    ("options", "litres", "meaning"),
    [
        ((), 5.6, "wet-mass"),
        (("--meaning", "wet-mass"), 5.6, "wet-mass"),
        (("--meaning", "water-to-dry"), 2.154, "water-to-dry"),
    ],
)
def test_water_to_add(answer, options, litres, meaning):
    # 9.8 kg dry at half water: 19.6 kg; 14/1.3 = 10.77 kg dry × 0.2. By hand.
    water = answer("moisture", "--mass", "14kg", "--at", "30%", "--to", "50%", *options)

    assert water["water_to_add_l"] == pytest.approx(litres, abs=5e-4)
    assert water["meaning"] == meaning


@pytest.mark.parametrize(
    "command",
    ["mix", "materials", "job", "packs", "pot-test", "moisture", "serve", "backup", "restore", "check"],
)
def test_every_command_explains_itself(friable, command):
    code, out, err = friable(command, "--help")

    assert (code, err) == (0, "")
    assert out.startswith(f"Usage: friable {command}")
    assert "--json" in out
