"""The fewest mixes on the command line: keys for programs, words for people, one sentence for a refusal."""

import pytest

BARK = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
COLLECTION = f"""group,stage,container,count,mix
epiphyte,grown,round 13/10/11 cm,12,{BARK}
fern,grown,,30,{BARK}
foliage,grown,,9,1 sphagnum peat fine
bog,grown,,5,3 sphagnum peat medium + 1 horticultural sand medium
bromeliad,grown,,4,{BARK}
"""
FEW = (
    "--materials",
    "pine bark nursery, sphagnum peat medium, perlite coarse",
    "--parts",
    "3",
    "--kinds",
    "2",
)
SPARE = '[mix."spare mix"]\nparts = [["pine bark nursery", 4], ["perlite coarse", 1]]\n'


@pytest.fixture
def collection(tmp_path):
    file = tmp_path / "pots.csv"
    file.write_text(COLLECTION, encoding="utf-8")
    return str(file)


def test_every_key_is_there(answer, collection):
    told = answer("fewest", collection, *FEW)

    assert told["fewest"] == len(told["mixes"]) == told["proof"]["fewest"] == told["proof"]["bound"]
    assert told["proof"]["proved"] is True
    assert told["pots"] == 60
    assert {one["group"] for one in told["no_window"]} == {"bromeliad, grown"}
    assert {one["group"] for one in told["no_figure"]} == {"bog, grown"}
    served = [one for mix in told["mixes"] for one in mix["serves"]]
    assert {one["group"] for one in (*served, *told["cannot"])} == {
        "epiphyte, grown", "fern, grown", "foliage, grown",
    }  # fmt: skip
    assert all(one["chance"] >= 0.5 for one in served)
    assert sum(one["pots"] for one in served) == told["pots_served"]
    assert {one["mix"] for one in told["can_go"]} | {mix["mix"] for mix in told["mixes"]} >= set(
        told["mixes_now"]
    )
    for mix in told["mixes"]:
        assert sum(part["share"] for part in mix["materials"]) == pytest.approx(1)


def test_for_people_the_answer_comes_first_and_the_proof_second(friable, collection):
    code, out, err = friable("fewest", collection, *FEW)

    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert "within their windows" in lines[0]
    assert lines[1].startswith("Proved: ")
    for said in (
        "Left on their mix: no window is known",
        "Left on their mix: nothing is asked of air and water",
        "What it hangs on",
    ):
        assert said in lines


def test_a_mix_of_a_file_is_chosen_from(answer, collection, tmp_path):
    file = tmp_path / "more.toml"
    file.write_text(SPARE, encoding="utf-8")

    told = answer("fewest", collection, *FEW, "--mixes", str(file))

    assert told["candidates"]["given"] == 1


def test_a_higher_chance_never_asks_for_fewer_mixes_of_the_same_groups(answer, collection):
    low, high = (answer("fewest", collection, *FEW, "--chance", c) for c in ("30%", "90%"))

    assert high["least_chance"] is None or high["least_chance"] >= 0.9
    assert high["pots_served"] <= low["pots_served"]


REFUSED = [
    ((), "No collection is given; name a CSV file whose first line is group,stage,container,count,mix."),
    (("none.csv",), "The collection “none.csv” does not exist; check its name and folder."),
    (("pots.csv", "--chance", "0"), "--chance “0” is nothing at all. Write it as 50%."),
    (("pots.csv", "--chance", "nan"), "--chance “nan” is not a finite number. Write it as 5 %."),
    (("pots.csv", "--chance", "101%"), "--chance “101%” is out of range. It must be from 0 to 100 %."),
    (("pots.csv", "--parts", "13"), "--parts “13” is no whole number from 1 to 12. Give one such as 3."),
    (("pots.csv", "--kinds", "0"), "--kinds “0” is no whole number from 1 to 5. Give one such as 3."),
    (("pots.csv", "--kinds", "1.5"), "--kinds “1.5” is no whole number from 1 to 5. Give one such as 3."),
    (("pots.csv", "--seconds", "1e308"), "--seconds “1e308” is no whole number from 1 to 600."),
    (("pots.csv", "--mixes", "none.toml"), "The recipe file “none.toml” does not exist;"),
    (("pots.csv", "--mixes", "pots.csv"), "The recipe file cannot be read as TOML:"),
    (("pots.csv", "--materials", "moon dust"), "No material is called “moon dust”."),
    (("pots.csv", "--materials", "stock"), "Nothing is counted in stock; name the materials"),
    (("photo.csv",), "The collection is not text in UTF-8; save it as such."),
    (("twice.csv",), "The collection has two columns “group”; keep one."),
    (("moon.csv",), "Line 3 of the collection: No plant group is called “moon, grown”."),
]  # fmt: skip


@pytest.mark.parametrize(("arguments", "said"), REFUSED, ids=lambda one: " ".join(one)[:40])
def test_what_cannot_be_is_refused_in_one_sentence(refusal, tmp_path, monkeypatch, arguments, said):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "pots.csv").write_text(COLLECTION, encoding="utf-8")
    (tmp_path / "photo.csv").write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe")
    (tmp_path / "twice.csv").write_text("group,group,count\n", encoding="utf-8")
    (tmp_path / "moon.csv").write_text("group,stage,count\nfern,grown,1\nmoon,grown,1\n", encoding="utf-8")

    assert refusal("fewest", *arguments).startswith(said)
