"""Four moments of a pot: one scale, numbers beside patterns, no colour needed, nothing typed acts."""

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from friable.drawing.four_moments import PotMoment, four_moments_svg, moment_pictures
from friable.drawing.moment_panel import litres, panel, since_watering
from friable.errors import BadQuantity

from .pots import POTS, Point, container, even, four, rising

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '</text><script>alert(1)</script> & "quoted" {{ 1 }} #read("/etc/passwd") \u202egnp.exe \x07'


def drawn(pot, moments=None, **more):
    text = four_moments_svg(pot, moments or four(pot), title="a pot drying", **more)
    return ET.fromstring(text), text  # noqa: S314 - our own drawing


def words_of(root):
    return [re.sub(r"\s+", " ", " ".join(t.itertext())) for t in root.iter(SVG + "text")]


def numbers(path):
    found = [float(x) for x in re.findall(r"-?\d+\.?\d*", path.get("d"))]
    return list(zip(found[::2], found[1::2], strict=True))


def of_class(element, name):
    return [e for e in element.iter() if e.get("class") == name]


def area(path):
    total = 0.0
    for outline in path.get("d").split("Z"):
        found = [float(x) for x in re.findall(r"-?\d+\.?\d*", outline)]
        points = list(zip(found[::2], found[1::2], strict=True))
        if points:
            total += abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]]))) / 2
    return total


def px_per_cm(root):
    bar = of_class(root, "scale-bar")[0]
    length = float(of_class(root, "scale-length")[0].text.split()[0])
    xs = [x for x, _ in numbers(bar)]
    return (max(xs) - min(xs)) / length


@pytest.mark.parametrize("name", POTS)
@pytest.mark.parametrize("width", [320, 680, 800, 1200])
def test_all_four_are_drawn_to_the_scale_of_the_bar(name, width):
    pot = POTS[name]
    root, _ = drawn(pot, width=width)
    scale = px_per_cm(root)
    groups = of_class(root, "moment")
    assert len(groups) == 4
    fill = pot.bottom_length_cm + (pot.top_length_cm - pot.bottom_length_cm) * (
        pot.fill_height_cm / pot.height_cm
    )
    for group in groups:
        (x0, _y0), (x1, _y1) = numbers(of_class(group, "fill-line")[0])
        assert abs(x1 - x0) / scale == pytest.approx(fill, rel=0.005)


def test_areas_of_water_are_the_shares_of_the_section():
    # A pot with upright walls and the same water at every height: the area of water is its share of the
    # rectangle, by hand.
    pot = container("square", 10, 10, 12, headspace_cm=2)
    moments = [PotMoment(h, f"at {h}", even(pot, air)) for h, air in ((0, 0.05), (24, 0.25), (90, 0.5))]
    root, _ = drawn(pot, moments)
    scale = px_per_cm(root)
    for group, air in zip(of_class(root, "moment"), (0.05, 0.25, 0.5), strict=True):
        assert area(of_class(group, "water")[0]) / scale**2 == pytest.approx((0.8 - air) * 100, rel=0.01)
        assert area(of_class(group, "air")[0]) / scale**2 == pytest.approx(air * 100, rel=0.01)


def test_litres_are_water_times_volume():
    # By hand: 10 x 10 cm, 10 cm of medium = 1 L; 80 % pores less 30 % air = 0.50 L; its range by a tenth.
    pot = container("square", 10, 10, 12, headspace_cm=2)
    one = panel(1, pot, PotMoment(1, "now", even(pot, 0.3)), 0.1)
    assert (one.water_l, one.water_low_l, one.water_high_l) == pytest.approx((0.5, 0.45, 0.55))
    root, _ = drawn(pot, [PotMoment(1, "now", even(pot, 0.3))])
    assert "0.50 L water" in words_of(root)
    assert "(0.45 L to 0.55 L)" in words_of(root)


def test_water_in_a_cone_counts_the_wider_top():
    # By hand: a cone frustum of 17/12 cm over 13 cm holds 13 pi/12 (17^2 + 17x12 + 12^2) = 2168.0 cm3.
    pot = container("round", 17, 12, 13)
    one = panel(1, pot, PotMoment(0, "wet", even(pot, 0.3, porosity=0.8, count=2)), 0.1)
    assert one.water_l == pytest.approx(0.5 * 2.1680, rel=1e-4)


def test_what_is_measured_here_scales_the_litres():
    pot = replace(POTS["round"], measured_volume_l=2 * POTS["round"].brim_volume_l)
    moment = PotMoment(0, "wet", even(pot, 0.3))
    assert panel(1, pot, moment, 0.1).water_l == pytest.approx(
        2 * panel(1, POTS["round"], moment, 0.1).water_l
    )


@pytest.mark.parametrize(
    ("hour", "said"),
    [
        (0, "at watering"),
        (0.25, "15 min after"),
        (2, "2 h after"),
        (47.9, "47.9 h after"),
        (48, "2 days after"),
        (146.4, "6.1 days after"),
    ],
)
def test_time_is_told_in_the_unit_that_fits(hour, said):
    assert since_watering(hour) == said


@pytest.mark.parametrize(
    ("volume", "said"),
    [(0.0123, "12 mL"), (0.0996, "0.10 L"), (0.554, "0.55 L"), (0.996, "1.0 L"), (1.25, "1.2 L")],
)
def test_litres_have_two_figures(volume, said):
    assert litres(volume) == said


def test_each_moment_says_its_name_time_water_air_and_wet_zone():
    # Worked by hand: air rises from 2 % at the foot to 30 % at 11.5 cm, so it passes 10 % at 3.29 cm.
    root, _ = drawn(POTS["round"])
    said = words_of(root)
    for words in (
        "just watered at watering",
        "drained 2 h after",
        "half used 2.9 days after",
        "water now 6.1 days after",
    ):
        assert words in said
    assert [w for w in said if w in ("1", "2", "3", "4")] == ["1", "2", "3", "4"]
    assert {"top: 30 % air", "middle: 16 % air", "foot: 2 % air"} <= set(said)
    assert "too wet from 0 to 3.3 cm" in " ".join(said)
    assert said.count("nowhere too wet") == 2


def test_the_wet_zone_is_hatched_only_where_it_is_too_wet():
    groups = of_class(drawn(POTS["round"])[0], "moment")
    assert [len(of_class(g, "wet")) for g in groups] == [1, 1, 0, 0]


def test_a_drainage_layer_is_named_and_its_water_not_counted():
    root, _ = drawn(POTS["layered"], layer_name="lava 8-16 mm")
    assert any("drainage layer 3 cm: lava 8-16 mm; its water is not counted" in w for w in words_of(root))
    assert len(of_class(root, "layer")) == 4
    # Shares of 1 above a layer of 3 cm: the volume of the medium, by the same prismoid without the layer.
    pot = container("square", 10, 10, 12, headspace_cm=2, drainage_layer_cm=3)
    assert panel(1, pot, PotMoment(0, "x", even(pot, 0.3)), 0.1).water_l == pytest.approx(0.5 * 0.7)


@pytest.mark.parametrize("name", POTS)
@pytest.mark.parametrize("width", [260, 320, 680, 800])
def test_words_stay_on_the_drawing_and_in_their_columns(name, width):
    root, _ = drawn(POTS[name], width=width, layer_name="x" * 80)
    for text in root.iter(SVG + "text"):
        for line in [t for t in text if t.get("x")] or [text]:
            size = float(line.get("font-size") or text.get("font-size") or 13)
            x, y = float(line.get("x")), float(line.get("y"))
            assert size >= 13
            assert 0 < y < float(root.get("height"))
            if text.get("text-anchor") not in ("end", "middle"):
                assert x + 0.5 * size * len(line.text or "") <= width


def test_rows_of_words_do_not_overlap_and_stay_clear_of_the_pot():
    root, _ = drawn(POTS["round"], width=800)
    columns = {}
    for text in root.iter(SVG + "text"):
        for line in [t for t in text if t.get("x")] or [text]:
            columns.setdefault(line.get("x"), []).append(float(line.get("y")))
    for rows in columns.values():
        assert all(below - above >= 15 for above, below in pairwise(sorted(rows)))


def test_four_stand_in_one_row_at_800_px_and_on_the_width_of_a_page():
    # 680 px at 96 dpi is 180 mm, an A4 page less its margins; 13 px are then 9.75 pt.
    for width in (680, 800):
        root, _ = drawn(POTS["round"], width=width)
        tops = {numbers(of_class(g, "fill-line")[0])[0][1] for g in of_class(root, "moment")}
        assert len(tops) == 1
    for width, rows in ((360, 2), (280, 4)):
        root, _ = drawn(POTS["round"], width=width)
        assert len({numbers(of_class(g, "fill-line")[0])[0][1] for g in of_class(root, "moment")}) == rows


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_fewer_moments_give_fewer_pots(count):
    root, _ = drawn(POTS["round"], four(POTS["round"])[:count])
    assert len(of_class(root, "moment")) == count


def test_pictures_one_at_a_time_have_one_size_and_one_scale():
    pictures = moment_pictures(POTS["layered"], four(POTS["layered"]), title="a pot", layer_name="lava")
    roots = [ET.fromstring(p.svg) for p in pictures]  # noqa: S314 - our own drawing
    assert len({(r.get("width"), r.get("height")) for r in roots}) == 1
    assert len({round(px_per_cm(r), 6) for r in roots}) == 1
    assert [len(of_class(r, "moment")) for r in roots] == [1, 1, 1, 1]
    assert [p.said for p in pictures] == ["just watered", "drained", "half used", "water now"]
    assert [r.find(SVG + "title").text for r in roots][3] == "a pot: water now"
    assert pictures[1].when == "2 h after"
    assert pictures[1].spoken in roots[1].find(SVG + "desc").text
    ids = [e.get("id") for r in roots for e in r.iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_a_screen_reader_hears_all_four():
    root, _ = drawn(POTS["round"])
    assert root.get("role") == "img"
    assert root.find(SVG + "title").text == "a pot drying"
    spoken = root.find(SVG + "desc").text
    assert "2: drained, 2 h after. Water in the mix" in spoken
    assert "0 cm up: 2 % air, 78 % water" in spoken
    assert "too wet from 0 to 3.3 cm" in spoken
    assert "4: water now, 6.1 days after" in spoken


@pytest.mark.parametrize("black_and_white", [True, False])
def test_nothing_needs_a_style_or_a_script(black_and_white):
    root, text = drawn(POTS["layered"], black_and_white=black_and_white, layer_name="lava")
    for element in root.iter():
        assert element.tag.removeprefix(SVG) not in ("style", "script", "foreignObject", "image", "a")
        assert not [a for a in element.attrib if a == "style" or a.startswith("on") or "href" in a]
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")


def test_black_and_white_uses_no_other_colour():
    root, _ = drawn(POTS["layered"], black_and_white=True)
    used = {e.get(a) for e in root.iter() for a in ("fill", "stroke") if e.get(a)}
    assert {c for c in used if not c.startswith("url(")} <= {"#000000", "#ffffff", "none"}


def test_ids_start_with_the_key_and_are_found():
    ids = []
    for key in ("left", "right"):
        root, text = drawn(POTS["layered"], key=key)
        mine = [e.get("id") for e in root.iter() if e.get("id")]
        assert all(i.startswith(f"{key}-") for i in mine)
        assert set(re.findall(r"url\(#([^)]+)\)", text)) <= set(mine)
        assert set(root.get("aria-labelledby").split()) <= set(mine)
        ids += mine
    assert len(ids) == len(set(ids))


def test_typed_text_prints_and_does_not_act():
    pot = POTS["layered"]
    moments = [PotMoment(0, HOSTILE, rising(pot, 0.02, 0.3))]
    root, text = drawn(pot, moments, layer_name=HOSTILE)
    assert "<script" not in text
    assert "\u202e" not in text
    assert "\x07" not in text
    assert "alert(1)" in "".join("".join(t.itertext()) for t in root.iter(SVG + "text"))


def test_impossible_moments_are_refused():
    pot = POTS["round"]
    first = four(pot)[0]
    with pytest.raises(BadQuantity, match="number of moments is 0"):
        four_moments_svg(pot, [], title="x")
    with pytest.raises(BadQuantity, match="number of moments is 5"):
        four_moments_svg(pot, [first] * 5, title="x")
    for hour in (-1, float("nan")):
        with pytest.raises(BadQuantity, match="hours since watering"):
            four_moments_svg(pot, [replace(first, hour=hour)], title="x")
    for change, said in (
        ({"air": float("nan")}, "air is not a number"),
        ({"water_low": float("nan")}, "range of the water is not a number"),
        ({"water_high": 1.4}, "range of the water is 1.4"),
    ):
        broken = tuple(Point(**{**p.__dict__, **change}) for p in first.profile)
        with pytest.raises(BadQuantity, match=said):
            four_moments_svg(pot, [replace(first, profile=broken)], title="x")
    with pytest.raises(BadQuantity, match="from 260 to 4000"):
        four_moments_svg(pot, [first], title="x", width=100)
    with pytest.raises(BadQuantity, match="too wet"):
        four_moments_svg(pot, [first], title="x", wet_below=2)


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(["round", "square", "basket", "cell"]),
    st.floats(1, 120),
    st.floats(1, 120),
    st.floats(1, 120),
    st.floats(0, 0.4),
    st.floats(260, 1500),
    st.text(max_size=80),
)
def test_any_pot_gives_a_whole_drawing(shape, top, bottom, height, layer, width, name):
    pot = container(shape, top, bottom, height, headspace_cm=0.1 * height, drainage_layer_cm=layer * height)
    root, _ = drawn(pot, width=width, layer_name=name)
    high = float(root.get("height"))
    for path in root.iter(SVG + "path"):
        if path.get("class") in ("solid", "water", "air", "wet", "wall", "layer", "scale-bar"):
            assert all(-1e-6 <= x <= width and -1e-6 <= y <= high for x, y in numbers(path))
