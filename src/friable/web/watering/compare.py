"""Up to four choices side by side, in one climate and with one plant."""

from collections.abc import Mapping
from dataclasses import dataclass

from friable.errors import FriableError
from friable.web.watering.answers import PotAnswer, pot_answer
from friable.web.watering.forms import CaseForm, ChoiceForm

LETTERS = ("a", "b", "c", "d")
FILLED_IN = ("mix", "container")


@dataclass(frozen=True, slots=True)
class Compared:
    """One choice as it was typed, and its answer or why there is none."""

    letter: str
    form: ChoiceForm
    answer: PotAnswer | None
    refusal: str = ""


def choice_forms(asked: Mapping[str, str]) -> list[ChoiceForm]:
    """Return a form for each choice; what is left empty in a later one is taken from the first."""
    forms = []
    for letter in LETTERS:
        typed = {f"{letter}-{name}": asked.get(f"{letter}-{name}", "") for name in ChoiceForm({}).fields}
        if letter == LETTERS[0]:
            for name in ChoiceForm({}).fields:  # the address of one pot leads here with its own names
                typed[f"a-{name}"] = typed[f"a-{name}"] or asked.get(name, "")
        if any(text.strip() for name, text in typed.items() if not name.endswith("-base")):
            for name in FILLED_IN if forms else ():
                typed[f"{letter}-{name}"] = typed[f"{letter}-{name}"] or forms[0][name].value() or ""
            form = ChoiceForm(typed, prefix=letter)
        else:
            form = ChoiceForm(prefix=letter, initial={"base": typed[f"{letter}-base"]})
        if forms:  # said once, in the first
            for name in FILLED_IN:
                form.fields[name].help_text = ""
        forms.append(form)
    return forms


def side_by_side(forms: list[ChoiceForm], case: CaseForm) -> list[Compared]:
    """Return an answer for each choice that was written and can be read."""
    if not case.is_valid():
        return []
    found = []
    for letter, form in zip(LETTERS, forms, strict=True):
        if not form.is_bound or not form.is_valid():
            continue
        try:
            found.append(Compared(letter, form, pot_answer(form, case)))
        except FriableError as problem:
            found.append(Compared(letter, form, None, str(problem)))
    return found
