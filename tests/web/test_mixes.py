"""The list of mixes, one mix with its versions, mixes side by side."""

import json
import re

import pytest
from tests import cast
from tests.web import hostile
from tests.web.conftest import text_of

from friable.planning.forecast import forecast
from friable.planning.notation import parse_container, parse_recipe
from friable.planning.reading import pot_reading, with_range
from friable.records import actions, plain
from friable.records.models import MixVersion
from friable.web.mixes import poured


@pytest.fixture
def bark(db):
    """The potting-on mix, and a pot."""
    cast.nine_cm_pot()
    return cast.potting_on(
        amendments=[("dolomitic limestone", 3.0)], cautions=("Moisten the bark before mixing.",)
    )


def test_the_list_shows_each_mix_in_its_newest_version(helper, bark):
    actions.new_mix_version(bark.mix, cast.recipe("x", (4, "pine bark nursery"), (1, "coir pith")), by="MK")
    actions.write_mix(cast.recipe("half known", (1, "coir pith"), incomplete=True), by="MK")

    page = text_of(helper.get("/mixes/"))

    assert "4 pine bark nursery" in page
    assert "version 2" in page
    assert "incomplete" in page


def test_an_empty_list_says_what_to_do(helper):
    assert "No mix is written down yet" in text_of(helper.get("/mixes/"))


def test_a_mix_shows_its_air_and_water_in_our_first_pot(helper, bark):
    row = cast.Container.objects.get()
    expected = forecast(plain.resolve_parts(bark), plain.container(row))

    page = text_of(helper.get(f"/mixes/{bark.mix_id}/"))

    assert pot_reading(expected) in page
    assert "Moisten the bark before mixing." in page
    assert "dolomitic limestone" in page


def test_a_mix_is_looked_at_in_another_pot(helper, bark):
    expected = forecast(plain.resolve_parts(bark), parse_container("tray 50x30x4 cm"))

    asked = {"container": "tray 50x30x4 cm", "headspace": "", "layer": "", "layer_material": "", "use": ""}
    page = text_of(helper.get(f"/mixes/{bark.mix_id}/", asked))

    assert pot_reading(expected) in page


def test_a_pot_that_cannot_be_read_is_refused_beside_its_field(helper, bark):
    answer = helper.get(f"/mixes/{bark.mix_id}/", {"container": "a big one"})

    assert answer.status_code == 422
    assert "a big one" in text_of(answer)
    assert 'aria-invalid="true"' in text_of(answer)


@pytest.mark.parametrize("address", ["/mixes/99/", "/mixes/99/new-version", "/mixes/99/change"])
def test_a_mix_that_is_not_there_is_not_found(helper, address):
    assert helper.get(address).status_code == 404


def new_version(**said):
    return {
        "recipe": "4 pine bark nursery + 1 coir pith", "container": "", "lines": "0", "amendments": "0",
        "cautions": "", "shrinkage": "", "top_dressing": "", "version_note": "finer now", **said,
    }  # fmt: skip


def test_a_new_version_tells_what_changed_and_leaves_the_old_one(helper, bark):
    answer = helper.post(f"/mixes/{bark.mix_id}/new-version", new_version())

    page = text_of(helper.get(answer["Location"]))
    assert "pine bark nursery 0-12 mm: 5 parts became 4 parts." in page
    assert "coir pith 0-5 mm came in: 1 part." in page
    assert "perlite coarse 2-6 mm was left out." in page
    assert "dolomitic limestone is added no more." in page
    assert "finer now" in page
    old = text_of(helper.get(f"/mixes/{bark.mix_id}/?version=1"))
    assert "This is an older version." in old


def test_the_form_of_a_new_version_starts_from_the_newest(helper, bark):
    page = text_of(helper.get(f"/mixes/{bark.mix_id}/new-version"))

    assert "5 pine bark nursery 0-12 mm + 1 sphagnum peat medium 0-10 mm + 1 perlite coarse 2-6 mm" in page
    assert 'value="dolomitic limestone"' in page
    assert 'value="3 g/L"' in page


def test_a_name_that_would_not_read_back_is_put_into_lines(helper, bark):
    own = actions.add_material("grit + lime", by="MK", table_key="BKP_M")
    version = actions.write_mix(cast.recipe("odd", (2, own.name), (1, "coir pith")), by="MK")

    page = text_of(helper.get(f"/mixes/{version.mix_id}/new-version"))

    assert 'value="grit + lime"' in page
    assert "2 grit + lime" not in page


def test_a_version_that_nothing_uses_can_be_put_right(helper, bark):
    answer = helper.post(f"/mixes/{bark.mix_id}/change", new_version())

    assert answer.status_code == 302
    assert MixVersion.objects.get().lines.count() == 2


def test_a_used_version_says_that_it_is_frozen_and_stays(helper, bark):
    batch = actions.plan_litres(bark, by=cast.KEEPER, litres_l=20)

    assert f"used by batch {batch.code}: this version stays as it is" in text_of(
        helper.get(f"/mixes/{bark.mix_id}/")
    )
    answer = helper.post(f"/mixes/{bark.mix_id}/change", new_version())
    assert answer.status_code == 422
    assert "stays as it is; write a new version" in text_of(answer)
    assert bark.lines.count() == 3


def test_a_mix_made_of_what_nobody_knows_says_so(helper, bark):
    own = actions.add_material("bench sweepings", by="MK")
    version = actions.write_mix(cast.recipe("odd", (1, own.name)), by="MK")

    assert "Nothing is known of bench sweepings" in text_of(helper.get(f"/mixes/{version.mix_id}/"))


# --- side by side ---------------------------------------------------------------------------------


def test_mixes_stand_side_by_side_in_every_pot(helper, bark):
    actions.write_mix(cast.recipe("fern basket", (1, "sphagnum peat medium"), (3, "perlite coarse")), by="MK")
    asked = {
        "mix1": "potting-on bark", "mix2": "fern basket, version 1", "mix3": "1 coir pith",
        "pot1": "9 cm pot", "pot2": "tray 50x30x4 cm",
    }  # fmt: skip
    page = text_of(helper.get("/mixes/compare", asked))

    for recipe in ("5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse", "1 coir pith"):
        found = forecast(poured.of_recipe(parse_recipe(recipe)).parts, parse_container("tray 50x30x4 cm"))
        assert with_range(found.air_space) in page
    assert page.count("<svg") == 6
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_the_charts_carry_their_data_and_a_table(helper, bark):
    page = text_of(helper.get("/mixes/compare", {"mix": "potting-on bark"}))

    specs = re.findall(r'<script id="spec-(\w+)" type="application/json">(.*?)</script>', page, re.S)
    assert [key for key, _spec in specs] == ["retention", "air"]
    for _key, spec in specs:
        rows = json.loads(spec)["data"]["values"]
        assert {row["mix"] for row in rows} == {"potting-on bark, version 1"}
    assert page.count("The same as a table") == 2


def test_chart_files_are_loaded_only_where_a_chart_stands(helper, bark):
    assert "vega" in text_of(helper.get("/mixes/compare", {"mix": "potting-on bark"}))
    for address in ("/mixes/", "/mixes/write", "/mixes/compare", f"/mixes/{bark.mix_id}/", "/materials/"):
        assert "vega" not in text_of(helper.get(address))


@pytest.mark.parametrize("name", hostile.NAMES)
def test_a_chart_takes_hostile_names_as_data(helper, bark, name):
    version = actions.write_mix(cast.potting_on_recipe(name), by="MK")

    answer = helper.get("/mixes/compare", {"mix": str(version)})

    page = text_of(answer)
    assert answer.status_code == 200
    assert "<script>alert" not in page
    spec = re.search(r'<script id="spec-air" type="application/json">(.*?)</script>', page, re.S)[1]
    assert json.loads(spec)["data"]["values"]


def test_what_cannot_be_compared_is_refused_beside_its_field(helper, bark):
    answer = helper.get(
        "/mixes/compare", {"mix1": "potting-on bark", "mix2": "3 moon dust", "pot1": "9 cm pot"}
    )

    page = text_of(answer)
    assert answer.status_code == 422
    assert "No material is called “moon dust”." in page
    assert "3 moon dust" in page
    assert "<svg" in page


def test_the_same_pot_twice_is_shown_once(helper, bark):
    asked = {"mix1": "potting-on bark", "pot1": "round 9/6/8.5 cm", "pot2": "round 9/6/8.5 cm"}

    assert text_of(helper.get("/mixes/compare", asked)).count("<svg") == 1


def test_what_is_poured_is_what_a_job_is_planned_with(db):
    actions.write_mix(cast.recipe("base", (6, "coir pith"), (3, "wood fibre"), shrinkage=0.08), by="MK")
    soaked = parse_recipe(
        "3 base + 1 sphagnum peat medium (loose soaked) + 2 coir pith (tapped moist)", "top"
    )
    version = actions.write_mix(soaked, by="MK")

    shares = {material.key: share for material, share in plain.resolve_parts(version)}
    for found in (poured.of_version(version), poured.of_recipe(soaked)):
        total = sum(volume for _material, volume in found.parts)
        mine: dict[str, float] = {}
        for material, volume in found.parts:
            mine[material.key] = mine.get(material.key, 0.0) + volume / total
        assert mine == pytest.approx(shares)
