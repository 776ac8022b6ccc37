"""What is published stands beside a forecast as what it is."""

from friable.planning.evidence import drainage_layer_evidence, published_near
from friable.reference.materials import find_material


def parts(*pairs):
    return [(find_material(name), share) for name, share in pairs]


def test_the_published_pair_of_peat_and_graded_perlite_is_found_for_either_grade():
    # Perlite trade guide, trials of 1974 and 1977: 25:75 coarse 23.3 lb/ft3, 75:25 fine 38.1 lb/ft3, wet.
    for grade in ("coarse", "fine"):
        near = published_near(parts(("sphagnum peat medium", 1), (f"perlite {grade}", 3)))
        told = " ".join(str(evidence) for evidence in near)

        assert "0.373" in told
        assert "0.610" in told


def test_the_nearest_share_comes_first():
    near = published_near(parts(("sphagnum peat medium", 4), ("perlite medium", 1)))

    assert near[0].text.startswith("80 %")


def test_other_materials_are_not_evidence():
    assert published_near(parts(("gravel", 1), ("limestone grit", 1))) == ()


def test_both_sides_are_told_about_drainage_layers():
    told = [str(evidence) for evidence in drainage_layer_evidence()]

    assert any(text.startswith("Against") for text in told)
    assert any(text.startswith("For") and "Rowe" in text for text in told)
