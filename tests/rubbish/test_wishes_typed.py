"""Impossible wishes for a mix, on the command line: one sentence each, with the way out."""

import pytest

from friable.cli import at_hand_typed

R = "5 pine bark nursery + 1 sphagnum peat medium + 1 perlite coarse"
POT = ("--container", "round 9/6/8.5 cm")
THREE = ("--materials", "pine bark nursery, perlite coarse, sphagnum peat medium")
SMALL = ("--parts", "3", "--kinds", "2")
FERN = ("find", "--for", "fern, grown", *THREE, *SMALL)
WITHOUT_PEAT = ("replace", R, "--without", "peat", *SMALL)
X = "x" * 59 + "…"  # how long a text is echoed

FILES = {
    "air.toml": "[window.air_space]\nlow = 0.1\n",
    "back.toml": "[window.air_space]\nlow = 0.5\nhigh = 0.2\n",
    "nan.toml": "[window.air_space]\nlow = nan\n",
    "most.toml": "[window.air_space]\nlow = 20\n",
    "lime.toml": '[window.lime]\nallowed = ["no"]\n',
    "both.toml": '[window.air_space]\nlow = 0.1\n[window.lime]\nallowed = ["no"]\n',
    "price.toml": "[window.cost_per_l]\nhigh = 0.1\n[window.air_space]\nlow = 0.1\n",
    "photo.toml": b"\x89PNG\r\n\x1a\n\x00\xff",
    "pots.csv": f"group,stage,count,mix\nfern,grown,3,{R}\n",
    "bad.toml": "[mix.a]\nparts = [[]]\n",
}

RUBBISH = [
    (("find",), "Say for what the mix is: --for “epiphyte, grown” or --window FILE."),
    (
        ("find", "--for", "fern, grown", "--window", "air.toml"),
        "--for stands beside --window. Give one of the two.",
    ),
    (("find", "--for", "x" * 100_000), "No plant group is called “" + X + "”."),
    (("find", "--for", "epiphyte"), "“epiphyte” can mean more than one plant group; say which: "),
    (
        ("find", "--for", "bromeliad, grown"),
        "No figure is known for “bromeliad, grown”; set windows of your own with --window FILE.",
    ),
    (("find", "--for", "bog, grown", *THREE), "Nothing is asked of the pot itself; give a window of air,"),
    (
        ("find", "--window", "lime.toml", *POT, *THREE),
        "Nothing is asked of the pot itself; give a window of air,",
    ),
    (
        ("find", "--window", "back.toml", *POT, *THREE),
        "the low end of the window of air is 0.5; it must be at most the high end, 0.2.",
    ),
    (
        ("find", "--window", "nan.toml", *POT, *THREE),
        "an end of the window of air is not a number; it must be from",
    ),
    (
        ("find", "--window", "most.toml", *POT, *THREE),
        "The window “air_space” has an end of 20, which is no share;",
    ),
    (("find", "--window", "photo.toml", *POT, *THREE), "The windows file “photo.toml” is not text in UTF-8;"),
    (("find", "--window", "air.toml", *THREE), "--container “” is empty. Write it as “round 17/12/13 cm”."),
    (
        ("find", "--window", "price.toml", *POT, *THREE),
        "No material is left to make a mix of. Left out, as no price is known: ",
    ),
    (
        ("find", "--window", "both.toml", *POT, *THREE, "--lime", "yes"),
        "lime: the window allows no, the limits something else; make them agree.",
    ),
    ((*FERN, "--must", "coir pith"), "coir pith 0-5 mm must be in the mix but is not among the materials;"),
    (
        (*FERN, "--must", "pine bark nursery, perlite coarse, sphagnum peat medium"),
        "3 materials must be in the mix, but it may have 2 at most; ask for more kinds.",
    ),
    ((*FERN, "--never", "bark"), "--never “bark” is no pair. Write it as “loam / perlite fine”."),
    (
        (*FERN, "--within-stock", "--litres", "60L"),
        "No material is left to make a mix of. Left out, as none is counted in stock: ",
    ),
    ((*FERN, "--bucket", "60L", "--drum", "12L"), "bucket is 60 L; it must be no larger than the drum."),
    ((*FERN, "--most-peat", "101%"), "--most-peat “101%” is out of range. It must be from 0 to 100 %."),
    ((*FERN, "--most-wet", "nan"), "--most-wet “nan” is not a number. Write it as 0.8."),
    ((*FERN, "--most-wet", "1e999"), "--most-wet “1e999” is not a number. Write it as 0.8."),
    ((*FERN, "--least-years", "-1"), "years that the mix must last is -1; it must be 0 or more."),
    ((*FERN, "--dust", "never"), "dust “never” is no word for it. Use: no, sometimes, unknown, yes."),
    ((*FERN, "--best", "0"), "--best “0” is not a whole number above 0."),
    ((*FERN[:3], *THREE, "--parts", "13"), "--parts “13” is out of range. It must be from 1 to 12."),
    ((*FERN[:3], *THREE, "--kinds", "6"), "--kinds “6” is out of range. It must be from 1 to 5."),
    ((*FERN[:3], "--materials", ","), "--materials “,” names none. Name the materials with commas between."),
    ((*FERN[:3], "--materials", "perlite"), "“perlite” can mean more than one material; say which: "),
    (
        (*FERN[:3], "--materials", "stock"),
        "Nothing is counted in stock; name the materials, or use --materials all.",
    ),
    (
        (*FERN[:3], "--materials", "sphagnum peat medium", "--most-peat", "0%"),
        "No material is left to make a mix of. Left out, as it is peat: sphagnum peat medium 0-10 mm.",
    ),
    (("replace", R), "--without “” is empty. Write it as “perlite coarse”, or “peat”."),
    (("replace", R, "--without", ",,,", *POT), "what the mix must do without “,,,” is empty."),
    (("replace", R, "--without", "peat"), "--container “” is empty. Write it as “round 17/12/13 cm”."),
    (
        ("replace", R, "--without", "coir pith", *POT, *THREE),
        "The mix has no coir pith; it is made of pine bark nursery 0-12 mm, sphagnum peat medium 0-10 mm, ",
    ),
    (("replace", R, "--without", "moon dust", *POT, *THREE), "No material is called “moon dust”."),
    (("replace", "5 moon dust", "--without", "peat", *POT, *THREE), "No material is called “moon dust”."),
    (
        (*WITHOUT_PEAT, *POT, "--materials", "sphagnum peat medium"),
        "Nothing that may be used is left to put in its place; name more materials, or loosen a limit.",
    ),
    (
        (*WITHOUT_PEAT, "--container", "; ;", *THREE),
        "--container “” is empty. Write it as “round 17/12/13 cm”.",
    ),
    ((*WITHOUT_PEAT, "--container", "round 9/6/8.5 cm; moon", *THREE), "No container is called “moon”."),
    (
        (*WITHOUT_PEAT, *POT, *THREE, "--within-stock"),
        "--litres “” is missing beside --within-stock. Say how much is to be made: 80L.",
    ),
    (
        (*WITHOUT_PEAT, *POT, *THREE, "--within-stock", "--litres", "80L"),
        "Nothing that could take its place is counted in stock and allowed; count it, or look beyond ",
    ),
    ((*WITHOUT_PEAT, *POT, *THREE, "--litres", "-1L"), "--litres “-1L” is below 0. It must be above 0."),
    (
        (*WITHOUT_PEAT, *POT, *THREE, "--headspace", "50cm"),
        "headspace is 50 cm; it must be at least 0 and less than",
    ),
    ((*WITHOUT_PEAT, *POT, *THREE, "--drainage-layer", "3 cm moon"), "No material is called “moon”."),
    (
        ("replace", R, "--published", "john-innes-2", "--without", "peat", *POT, *THREE),
        "The recipe is given more than once: written out, by a file or by name; keep one.",
    ),
    (("fewest", "pots.csv", *THREE, "--chance", "1e308%"), "--chance “1e308%” is out of range."),
    (
        ("fewest", "pots.csv", *THREE, "--chance", "-1%"),
        "--chance “-1%” is out of range. It must be from 0 to 100 %.",
    ),
    (
        ("fewest", "pots.csv", *THREE, "--mixes", "bad.toml"),
        "The mix “a” has a component that is not written as",
    ),
    (("fewest", "pots.csv", *THREE, "--parts", "x" * 100_000), "--parts “" + X + "” is too long"),
    (
        ("fewest", "air.toml", *THREE),
        "The collection has no column “group”; its first line names the columns: ",
    ),
]


@pytest.mark.parametrize(
    ("typed", "said"), RUBBISH, ids=lambda one: " ".join(one)[:60] if isinstance(one, tuple) else one[:20]
)
def test_a_wish_that_cannot_be_has_one_sentence(refusal, tmp_path, monkeypatch, typed, said):
    monkeypatch.setattr(at_hand_typed, "records_exist", lambda: False)
    monkeypatch.chdir(tmp_path)
    for name, content in FILES.items():
        (tmp_path / name).write_bytes(content if isinstance(content, bytes) else content.encode())

    assert refusal(*typed).startswith(said)
