"""Writing a mix, with an instant answer; what is typed is never lost."""

import re

import pytest
from tests import cast
from tests.web import hostile
from tests.web.conftest import text_of

from friable.planning.forecast import forecast
from friable.planning.notation import parse_container
from friable.planning.reading import pot_reading
from friable.records import plain
from friable.records.models import Material, Mix, MixVersion
from friable.records.queries.mixes import versions_with_lines
from friable.reference.materials import find_material

RECIPE = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = "round 17/12/13 cm"


def typed(**said):
    """Return what the form sends."""
    return {
        "recipe": RECIPE, "container": POT, "headspace": "1.5 cm", "layer": "", "layer_material": "",
        "use": "",
        "name": "potting-on bark", "plant_group": "", "lines": "0", "amendments": "0", "cautions": "",
        "shrinkage": "", "top_dressing": "", "version_note": "", **said,
    }  # fmt: skip


def refusals(answer) -> list[str]:
    return re.findall(r'<p class="refusal"[^>]*>(.*?)</p>', text_of(answer), re.S)


def plain_forecast(text=POT, headspace_cm=1.5):
    recipe = ((5, "pine bark nursery"), (1, "sphagnum peat medium"), (1, "perlite coarse"))
    parts = [(find_material(name), number) for number, name in recipe]
    return forecast(parts, parse_container(text).with_headspace(headspace_cm))


def test_the_page_says_the_same_numbers_as_the_forecast(helper):
    expected = plain_forecast()

    page = text_of(helper.post("/mixes/answer", typed()))

    assert pot_reading(expected) in page
    for figure in (expected.air_space, expected.container_capacity):
        assert f"{round(100 * figure.value)}&nbsp;<small>%</small>" in page
        assert f"{round(100 * figure.low)} to {round(100 * figure.high)} %" in page
    assert f"carried by {expected.supported_by}" in page
    assert expected.widest_input in page
    assert "<svg" in page


def test_a_shallow_tray_is_told_to_stay_wetter(helper):
    tray = "tray 50x30x4 cm"
    expected = plain_forecast(tray, 0.0)

    page = text_of(helper.post("/mixes/answer", typed(container=tray, headspace="")))

    assert pot_reading(expected) in page
    assert expected.air_space.value < plain_forecast().air_space.value


def test_the_button_answers_without_scripts_and_keeps_what_was_typed(helper):
    answer = helper.post("/mixes/write", typed(look="1", name="", cautions="Damp it first."))

    page = text_of(answer)
    assert answer.status_code == 200
    assert pot_reading(plain_forecast()) in page
    assert RECIPE in page
    assert "Damp it first." in page
    assert not Mix.objects.exists()
    assert not Material.objects.exists()


def test_a_recipe_line_by_line_gives_the_same_answer(helper):
    lines = {"lines": "4"}
    for place, (parts, name) in enumerate(
        [("5", "pine bark nursery"), ("1", "sphagnum peat medium"), ("1", "perlite coarse")]
    ):
        lines |= {f"line-{place}-parts": parts, f"line-{place}-material": name, f"line-{place}-state": ""}

    page = text_of(helper.post("/mixes/answer", typed(recipe="", **lines)))

    assert pot_reading(plain_forecast()) in page


def test_the_box_and_the_lines_together_are_refused(helper):
    answer = helper.post(
        "/mixes/answer", typed(lines="1", **{"line-0-parts": "1", "line-0-material": "coir pith"})
    )

    assert answer.status_code == 422
    assert refusals(answer) == ["The recipe stands in the box and line by line; empty one of the two."]


def test_a_line_that_cannot_be_read_is_marked(helper):
    sent = typed(recipe="", lines="1", look="1", **{"line-0-parts": "many", "line-0-material": "coir pith"})
    answer = helper.post("/mixes/write", sent)

    assert answer.status_code == 422
    assert any("does not begin with a number" in sentence for sentence in refusals(answer))
    assert 'value="many"' in text_of(answer)


def test_a_mix_is_kept_with_everything_that_belongs_to_it(helper):
    rows = {
        "amendments": "2",
        "amendment-0-name": "dolomitic limestone", "amendment-0-rate": "10 lb/yd3", "amendment-0-caution": "",
        "amendment-1-name": "", "amendment-1-rate": "", "amendment-1-caution": "",
    }  # fmt: skip
    answer = helper.post(
        "/mixes/write",
        typed(
            **rows, shrinkage="12 %", cautions="Moisten the bark.\n\nNo heat after feeding.",
            not_for="heaths, bog plants", use_within_days="2 weeks",
            top_dressing="grit", plant_group="saplings", incomplete="on", version_note="from the old card",
        ),
    )  # fmt: skip

    version = versions_with_lines().get()
    assert answer["Location"] == f"/mixes/{version.mix_id}/"
    recipe = plain.recipe(version)
    assert [(c.parts, c.name) for c in recipe.components] == [
        (5, "pine bark nursery 0-12 mm"), (1, "sphagnum peat medium 0-10 mm"), (1, "perlite coarse 2-6 mm"),
    ]  # fmt: skip
    # 10 lb per cubic yard = 10 x 0.45359237 kg / 0.764554858 m3 = 5.933 kg/m3 (exact units).
    assert recipe.amendments[0].rate_g_per_l == pytest.approx(5.933, abs=0.001)
    assert recipe.amendments[0].typed == "10 lb/yd3"
    assert recipe.cautions == ("Moisten the bark.", "No heat after feeding.")
    assert (recipe.shrinkage, recipe.top_dressing, recipe.incomplete) == (0.12, "grit", True)
    assert (version.not_for, version.use_within_days) == ("heaths, bog plants", 14)
    page = text_of(helper.get(answer["Location"]))
    assert "heaths, bog plants" in page
    assert "14 days after mixing" in page
    again = text_of(helper.get(f"/mixes/{version.mix_id}/new-version"))
    assert 'name="use_within_days" value="14"' in again
    assert 'name="not_for" value="heaths, bog plants"' in again
    assert (version.mix.plant_group, version.note, version.written_by) == (
        "saplings",
        "from the old card",
        "JO",
    )


def test_the_state_of_a_part_is_kept(helper):
    helper.post("/mixes/write", typed(recipe="6 coir pith (loose soaked) + 1 perlite coarse"))

    assert [line.state for line in MixVersion.objects.get().lines.all()] == ["loose soaked", "loose moist"]


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"name": ""}, "The mix has no name; give it one, such as “fern basket”."),
        ({"recipe": ""}, "The recipe is empty; write what is in it, such as “2 coir pith”."),
        ({"recipe": "3 moon dust"}, "No material is called “moon dust”."),
        ({"recipe": "1 grit"}, "“grit” can mean more than one material; say which:"),
        ({"recipe": "1 perlite coarse + 2 coarse perlite"}, "more than once; add the parts together"),
        ({"headspace": "20 cm"}, "headspace is 20 cm; it must be at least 0 and less than the height"),
        ({"container": "round 17/12 cm"}, "does not give three inside sizes"),
        ({"layer": "3 cm"}, "Say what the drainage layer is made of, such as gravel."),
        ({"shrinkage": "12"}, "Write per cent with its sign, or a share below 1."),
        ({"use_within_days": "0"}, "is not a whole number of days from 1 to 3650. Give one such as 14."),
        ({"use_within_days": "14 pots"}, "is not a time in days"),
        ({"not_for": "heath " * 30}, "characters"),
        (
            {"amendments": "1", "amendment-0-name": "lime", "amendment-0-rate": "two spoons"},
            "does not begin with a number",
        ),
    ],
)
def test_a_refusal_is_one_sentence_beside_the_field_and_the_text_stays(helper, said, sentence):
    answer = helper.post("/mixes/write", typed(**said))

    assert answer.status_code == 422
    assert any(sentence in one.replace("&quot;", '"') for one in refusals(answer)), refusals(answer)
    assert not Mix.objects.exists()
    for text in said.values():
        assert text in text_of(answer)


@pytest.mark.parametrize("text", [*hostile.NUMBERS, hostile.RIGHT_TO_LEFT, "1 " + hostile.RIGHT_TO_LEFT])
def test_a_recipe_that_is_none_is_refused_in_words(helper, text):
    for address in ("/mixes/answer", "/mixes/write"):
        answer = helper.post(address, typed(recipe=text))

        assert answer.status_code == 422
        assert refusals(answer)


def test_half_a_million_characters_are_kept_and_refused_with_one_sentence(helper):
    answer = helper.post("/mixes/write", typed(recipe=hostile.FLOOD))

    page = text_of(answer)
    assert answer.status_code == 422
    assert hostile.FLOOD in page
    said = [one for one in refusals(answer) if "characters" in one]
    assert len(said) == 1
    assert len(said[0]) < 200


def test_a_pasted_row_of_cells_is_refused(helper):
    answer = helper.post("/mixes/answer", typed(recipe=hostile.PASTED))

    assert answer.status_code == 422
    assert refusals(answer)


@pytest.mark.parametrize("name", hostile.NAMES)
def test_names_are_shown_as_they_are_and_do_nothing(helper, name):
    helper.post("/mixes/write", typed(name=name, plant_group=name, top_dressing=name))
    mix = Mix.objects.get()

    for address in ("/mixes/", f"/mixes/{mix.pk}/", f"/mixes/{mix.pk}/new-version"):
        page = text_of(helper.get(address))
        assert "<script>alert" not in page
        assert "<b>moss</b>" not in page
    assert mix.name == name


def test_a_stranger_is_asked_for_initials_and_nothing_is_kept_without(stranger):
    answer = stranger.post("/mixes/write", typed())

    assert answer.status_code == 422
    assert "Initials are missing" in text_of(answer)
    assert not Mix.objects.exists()
    assert stranger.post("/mixes/write", typed(signed_by="mk")).status_code == 302


def test_looking_needs_no_initials(stranger):
    assert stranger.post("/mixes/answer", typed()).status_code == 200
    assert stranger.post("/mixes/write", typed(look="1")).status_code == 200


def test_a_form_of_another_site_is_refused(strict):
    assert strict.post("/mixes/write", typed()).status_code == 403
    assert strict.post("/mixes/answer", typed()).status_code == 403


def test_the_answer_is_asked_for_by_post_only(helper):
    assert helper.get("/mixes/answer").status_code == 405


def test_nothing_typed_yet_is_no_mistake(helper):
    answer = helper.post("/mixes/answer", typed(recipe="", container=""))

    assert answer.status_code == 200
    assert "Write what is in the mix" in text_of(answer)


def test_what_is_asked_for_a_use_stands_beside_the_forecast(helper):
    page = text_of(helper.post("/mixes/answer", typed(use="general pots")))

    assert "What is asked for general pots" in page
    assert "10 to 25 %" in page
    assert "above it" in page


def test_a_drainage_layer_shows_both_sides_of_the_evidence(helper):
    page = text_of(helper.post("/mixes/answer", typed(layer="3 cm", layer_material="gravel 6-12 mm")))

    assert "What is published for and against drainage layers" in page
    assert "The drainage layer takes" in page


def test_a_mix_inside_a_mix_is_multiplied_out_as_the_stored_one_is(helper):
    nested = cast.nested_mix()
    parts = plain.resolve_parts(nested)
    expected = forecast(parts, parse_container(POT).with_headspace(1.5))

    page = text_of(helper.post("/mixes/answer", typed(recipe="3 base A + 1 grit base")))

    assert pot_reading(expected) in page
    assert f"{round(100 * expected.air_space.low)} to {round(100 * expected.air_space.high)} %" in page


def test_a_recipe_in_the_address_is_answered_or_refused_at_once(helper):
    assert pot_reading(plain_forecast(headspace_cm=0.0)) in text_of(
        helper.get("/mixes/write", {"recipe": RECIPE, "container": POT})
    )
    page = text_of(helper.get("/mixes/write", {"recipe": "3 moon dust"}))
    assert "No material is called “moon dust”." in page
