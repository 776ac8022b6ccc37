"""Quantities as people type them, and the sentence for each that cannot be read."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import refusal

from friable.errors import BadText
from friable.planning.units_in import centimetres, count, fraction, grams, kilograms, litres, rate_g_per_l

# Worked by hand from the definitions (1 ft = 30.48 cm, 1 US gallon = 231 in3, 1 lb = 453.59237 g).
READ = [
    (litres, "12 L", 12),
    (litres, "12l", 12),
    (litres, "1 500 mL", 1.5),
    (litres, "1110mL", 1.11),
    (litres, "3.8 cu ft", 107.6040170496),
    (litres, "3.8 ft³", 107.6040170496),
    (litres, "1 cubic foot", 28.316846592),
    (litres, "2 yd3", 1529.109715968),
    (litres, "1½ US dry quarts", 1.6518314141),
    (litres, "2 U.S. gal", 7.570823568),
    (litres, "1 imp. gal", 4.54609),
    (litres, "½ L", 0.5),
    (litres, "1/2 L", 0.5),
    (litres, "1 1/2 L", 1.5),
    (litres, "1,5 L", 1.5),
    (litres, "0,125 L", 0.125),
    (litres, "１２ L".translate({0xFF11: "1", 0xFF12: "2"}), 12),
    (centimetres, "1,5 cm", 1.5),
    (centimetres, "0 cm", 0),
    (centimetres, '6½"', 16.51),
    (centimetres, "4 inches", 10.16),
    (centimetres, "15 mm", 1.5),
    (kilograms, "14kg", 14),
    (kilograms, "1 tonne", 1000),
    (kilograms, "10 lb", 4.5359237),
    (grams, "1 oz", 28.349523125),
    (fraction, "5%", 0.05),
    (fraction, "5 per cent", 0.05),
    (fraction, "0.05", 0.05),
    (fraction, "0", 0),
    (fraction, "100 %", 1),
    (count, "60", 60),
    (count, "60 pots", 60),
    (rate_g_per_l, "3 kg/m3", 3),
    (rate_g_per_l, "3 g per L", 3),
    # 10 lb/yd3 is 5.93 kg/m3, 4 oz per 8 imperial gallons 3.1 g/L: by hand, to the digits given.
    (rate_g_per_l, "10 lb/yd3", 5.932764213),
    (rate_g_per_l, "4 oz per 8 imperial gal", 3.1180116457),
    (rate_g_per_l, "2 oz per US bushel", 1.608982),
]


@pytest.mark.parametrize(("read", "text", "value"), READ, ids=[text for _read, text, _value in READ])
def test_a_quantity_is_read_exactly(read, text, value):
    assert read(text).value == pytest.approx(value, rel=1e-6)  # worked to at least seven digits


REFUSED = [
    (litres, "5 gallons", "volume “5 gallons” can mean more than one size. "
     "Say which: US gallon, US dry gallon or imperial gallon."),
    (litres, "2 qt", "volume “2 qt” can mean more than one size. "
     "Say which: US dry quart, US liquid quart or imperial quart."),
    (litres, "2 US qt", "volume “2 US qt” can mean more than one size. "
     "Say which: US dry quart or US liquid quart."),
    (litres, "1 bushel", "volume “1 bushel” can mean more than one size. "
     "Say which: US bushel or imperial bushel."),
    (litres, "3 pints", "volume “3 pints” can mean more than one size. "
     "Say which: US dry pint, US liquid pint or imperial pint."),
    (kilograms, "2 tons", "mass “2 tons” can mean more than one size. "
     "Say which: tonne, US short ton or imperial long ton."),
    (litres, "2 trade gallons", "volume “2 trade gallons” names a pot, not a volume. "
     "Measure the pot and give litres, or its inside sizes."),
    (litres, "-5 L", "volume “-5 L” is below 0. It must be above 0."),
    (litres, "−5 L", "volume “-5 L” is below 0. It must be above 0."),
    (litres, "0 L", "volume “0 L” is nothing at all. It must be above 0."),
    (centimetres, "-1 cm", "length “-1 cm” is below 0. It must be 0 or more."),
    (litres, "nan L", "volume “nan L” is not a finite number. Write it as 12 L."),
    (litres, "inf", "volume “inf” is not a finite number. Write it as 12 L."),
    (litres, "1e308 L", "volume “1e308 L” is too large. It must be at most 1,000,000 L."),
    (litres, "1e99999 L", "volume “1e99999 L” is out of all proportion. Write it as 12 L."),
    (litres, "1e-300 L", "volume “1e-300 L” is too small. It must be at least 0.000001 L."),
    (centimetres, "1e308 cm", "length “1e308 cm” is too large. It must be at most 1,000 cm."),
    (litres, "😀", "volume “😀” does not begin with a number. Write it as 12 L."),
    (litres, "about 5 L", "volume “about 5 L” does not begin with a number. Write it as 12 L."),
    (litres, "12\u202eL", "volume “12L” holds a hidden character (right-to-left override). "
     "Type it by hand instead of pasting it."),
    (litres, "12\x00L", "volume “12 L” holds a hidden character (u+0000). "
     "Type it by hand instead of pasting it."),
    (litres, "12 L\t13 L", "volume “12 L 13 L” holds a tab or a line break, as a pasted table does. "
     "Paste one cell at a time."),
    (litres, "12 L\n13 L", "volume “12 L 13 L” holds a tab or a line break, as a pasted table does. "
     "Paste one cell at a time."),
    (litres, '"12 L"', "volume “\"12 L\"” stands in quotation marks. Leave the quotation marks out."),
    (litres, "9" * 90, f"volume “{'9' * 59}…” is too long (90 characters). Give at most 80."),
    (litres, "9" * 50, f"volume “{'9' * 50}” is out of all proportion. Write it as 12 L."),
    (litres, "", "volume “” is empty. Fill it in, or leave it out."),
    (litres, "5", "volume “5” has no unit. Write it as 12 L."),
    (litres, "1,500 mL", "volume “1,500 mL” can mean thousands or a decimal comma. Write 1500 or 1.500."),
    (litres, "1.5.2 L", "volume “1.5.2 L” holds a number that cannot be read. "
     "Use one decimal point or comma and no other marks, as in 12 L."),
    (litres, "5-6 L", "volume “5-6 L” is a range. Give one number, such as 12 L."),
    (litres, "1/0 L", "volume “1/0 L” divides by nought. Write it as 12 L."),
    (litres, "5 cm", "volume “5 cm” is in a unit of another kind (cm). Write it as 12 L."),
    (litres, "5 %", "volume “5 %” is in per cent. Write it as 12 L."),
    (litres, "5 furlongs", "volume “5 furlongs” has a unit that is not known. Write it as 12 L."),
    (litres, "2 buckets", "volume “2 buckets” is in a measure of no fixed size (bucket). "
     "Say what yours holds, as in 12 L."),
    (fraction, "5", "share “5” does not say per cent of what. "
     "Write per cent with its sign, or a share below 1."),
    (fraction, "105 %", "share “105 %” is out of range. It must be from 0 to 100 %."),
    (fraction, "5 L", "share “5 L” has a unit that is no share. Write it as 5 %."),
    (count, "6.5", "count “6.5” is not a whole number above 0. Give one such as 60."),
    (count, "-1", "count “-1” is not a whole number above 0. Give one such as 60."),
    (count, "1e7", "count “1e7” is too large. Give at most 1,000,000."),
    (count, "60 L", "count “60 L” is not a plain count. Give a whole number such as 60."),
    (rate_g_per_l, "1 tbsp per US gallon", "rate “1 tbsp per US gallon” is in a measure (tbsp) that holds a "
     "different mass of every material. Weigh one level measure of it here and give grams, such as 3 g/L."),
    (rate_g_per_l, "3 g", "rate “3 g” does not say per how much mix. Write it as 3 g/L or 3 kg/m3."),
    (rate_g_per_l, "2 oz per bushel", "rate “2 oz per bushel” can mean more than one size. "
     "Say which: US bushel or imperial bushel."),
    (rate_g_per_l, "3 g per 0 L", "rate “3 g per 0 L” is per no volume at all. Write it as 3 g/L."),
    (rate_g_per_l, "9 kg/L", "rate “9 kg/L” is too large. It must be at most 2,000 g/L."),
]  # fmt: skip


@pytest.mark.parametrize(
    ("read", "text", "sentence"),
    REFUSED,
    ids=[f"{read.__name__} {text[:20]!r}" for read, text, _s in REFUSED],
)
def test_what_cannot_be_read_gets_one_sentence(read, text, sentence):
    with pytest.raises(BadText) as refused:
        read(text)

    assert str(refused.value) == sentence


def test_there_are_no_two_refusals_alike():
    assert len({sentence for _read, _text, sentence in REFUSED}) >= 45


def test_a_bucket_counts_where_its_size_is_known():
    assert litres("2½ buckets", bucket_l=12).value == 30


def test_a_foreign_unit_is_said_back_in_ours():
    assert litres("3.8 cu ft").echo == "3.8 cu ft = 107.6 L"
    assert litres("12 L").echo == "12 L"
    assert rate_g_per_l("10 lb/yd3").echo == "10 lb/yd3 = 5.933 g/L"


def test_what_is_not_text_is_refused():
    with pytest.raises(BadText, match="is not text"):
        litres(12)


@given(st.text(max_size=120))
def test_any_text_is_read_or_refused_with_one_line(text):
    for read in (litres, centimetres, kilograms, grams, fraction, count, rate_g_per_l):
        sentence = refusal(read, text)
        assert "\n" not in sentence
        assert len(sentence) < 400
        assert sentence or read(text).exact >= 0


@given(st.fractions(min_value="0.001", max_value=1000, max_denominator=1000))
def test_a_fraction_comes_back_as_it_was_written(number):
    whole, rest = divmod(number, 1)
    written = f"{whole} {rest.numerator}/{rest.denominator}" if rest else f"{whole}"

    assert litres(f"{written} L").exact == Fraction(number)
