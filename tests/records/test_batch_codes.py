"""Codes of batches: read out, written by hand, and found out when they are wrong."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from friable.errors import BadQuantity, BadText
from friable.records.batch_codes import SIGNS, batch_code, read_batch_code

years = st.integers(2000, 2099)
numbers = st.integers(1, 19**4)


def test_no_sign_looks_like_another():
    for twins in ("0O", "1IL", "2Z", "5S", "8B", "6G", "OQD", "UV"):
        assert len(set(twins) & set(SIGNS)) <= 1


def test_there_is_a_prime_number_of_signs_each_once():
    assert len(set(SIGNS)) == len(SIGNS) == 19


@given(years, numbers)
def test_a_code_is_read_back_however_it_is_written(year, number):
    code = batch_code(year, number)

    assert read_batch_code(f" {code.lower().replace('-', ' ')} ") == code


@given(years, numbers, numbers)
def test_two_batches_of_a_year_have_two_codes(year, one, other):
    assert (batch_code(year, one) == batch_code(year, other)) == (one == other)


@given(years, numbers, st.data())
def test_one_misread_sign_is_found_out(year, number, data):
    code = batch_code(year, number)
    place = data.draw(st.sampled_from([i for i, sign in enumerate(code) if sign != "-"]))
    signs = "0123456789" if place < 2 else SIGNS
    wrong = data.draw(st.sampled_from([sign for sign in signs if sign != code[place]]))

    with pytest.raises(BadText, match="Read the label again"):
        read_batch_code(code[:place] + wrong + code[place + 1 :])


@given(years, numbers, st.data())
def test_two_neighbours_swapped_are_found_out(year, number, data):
    code = batch_code(year, number)
    place = data.draw(st.sampled_from([0, *range(3, len(code) - 2)]))
    swapped = code[:place] + code[place + 1] + code[place] + code[place + 2 :]

    if swapped != code:
        with pytest.raises(BadText, match="Read the label again"):
            read_batch_code(swapped)


def test_codes_of_a_year_sort_in_the_order_of_making():
    codes = [batch_code(2026, number) for number in range(1, 400)]

    assert [code[:-1] for code in codes] == sorted(code[:-1] for code in codes)


@pytest.mark.parametrize("number", [0, -1])
def test_there_is_no_batch_before_the_first(number):
    with pytest.raises(BadQuantity, match=f"the number of a batch is {number}; it must be at least 1"):
        batch_code(2026, number)


@pytest.mark.parametrize("text", ["", "26", "Q26-0142", "26-33AO", "26-3", "26-" + "3" * 40])
def test_what_cannot_be_a_code_is_refused(text):
    with pytest.raises(BadText, match="It looks like 26-333T"):
        read_batch_code(text)
