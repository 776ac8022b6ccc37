"""Forms of the store: counts and prices, one material or many at once."""

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from friable.errors import FriableError
from friable.planning import units_in
from friable.planning.prices import price_per_l
from friable.planning.typed_text import leading_number, one_cell
from friable.records.actions.stock import StoreLine
from friable.web.forms import DayField, NoteField, QuantityField, SignedForm

PRICE_HELP = _("For loose litres, as it goes into a mix: such as 12.50 for 70 L, or 0.18 per L.")


def litres_here(text: str, what: str = "") -> units_in.Quantity:
    """Read a volume in any unit; a bare number is litres, as its column says. 0 is nothing left. [L]"""
    cell = one_cell(text, what)
    _number, rest = leading_number(cell, what, "120 L")
    return units_in.litres(cell if rest else f"{cell} L", what, zero=True)


def price_here(text: str, what: str = ""):
    """Read a price; the sentence of a refusal calls it as the form does."""
    return price_per_l(text, what)


class AmountField(QuantityField):
    """How much lies here."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(litres_here, label=label, what=_("amount"), **options)


class PriceField(QuantityField):
    """What loose litres cost."""

    def __init__(self, *, label, **options) -> None:
        super().__init__(price_here, label=label, what=_("price"), **options)


class CountForm(SignedForm):
    """One material, counted."""

    amount = AmountField(
        label=_("Litres here now"),
        missing=_("The amount is missing; give it such as 120 L, or 0 if nothing is left."),
        help_text=_("Loose, as it goes into a mix: such as 120 L or 3.8 cu ft. 0: nothing left."),
    )
    counted_on = DayField(label=_("Counted on"), required=False, help_text=_("Empty: today."))
    note = NoteField(label=_("Note"))

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the material."""
        said = self.cleaned_data
        return {
            "amount_l": said["amount"].value,
            "typed": said["amount"].typed,
            "counted_on": said["counted_on"],
            "note": said["note"],
        }


class PriceForm(SignedForm):
    """What one material costs; with `unknown` nothing is known any more."""

    price = PriceField(
        label=_("Price"),
        missing=_("The price is missing; give it such as 12.50 for 70 L."),
        help_text=PRICE_HELP,
    )
    holds_from = DayField(label=_("Holds from"), required=False, help_text=_("Empty: today."))
    note = NoteField(label=_("Note"))

    def __init__(self, request, *args, unknown: bool = False, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.unknown = unknown
        self.fields["price"].required = not unknown

    def values(self) -> dict[str, object]:
        """Return what the act takes besides the material."""
        said = self.cleaned_data
        days = {"holds_from": said["holds_from"], "note": said["note"]}
        if self.unknown:
            return {"cost_per_l": None, **days}
        price = said["price"]
        return {"cost_per_l": price.cost_per_l, "currency": price.currency, "typed": price.typed, **days}


class StoreForm(SignedForm):
    """The whole store: a count and a price for each material, empty where nothing is new."""

    counted_on = DayField(label=_("Counted on"), required=False, help_text=_("Empty: today."))

    def __init__(self, request, rows, *args, **kwargs) -> None:
        super().__init__(request, *args, **kwargs)
        self.rows = rows
        for row in rows:
            name = row.known.name
            self.fields[row.stock_field] = AmountField(
                label=_now("Litres of {name} here now").format(name=name),
                required=False,
            )
            self.fields[row.price_field] = PriceField(
                label=_now("Price of {name}").format(name=name),
                required=False,
            )

    def clean(self):
        """Refuse a list in which nothing is filled in."""
        said = super().clean()
        if not self.errors and not self.lines():
            self.add_error(None, _("Nothing is filled in yet; write down at least one amount or price."))
        return said

    def lines(self) -> list[StoreLine]:
        """Return what is filled in."""
        found = []
        for row in self.rows:
            amount, price = self.cleaned_data.get(row.stock_field), self.cleaned_data.get(row.price_field)
            if amount is None and price is None:
                continue
            found.append(
                StoreLine(
                    material=row.known.row or row.known.key,
                    amount_l=None if amount is None else amount.value,
                    amount_typed="" if amount is None else amount.typed,
                    cost_per_l=None if price is None else price.cost_per_l,
                    currency="" if price is None else price.currency,
                    price_typed="" if price is None else price.typed,
                )
            )
        return found

    def refuse(self, problem: FriableError, field: str | None = None) -> None:
        """Put a refusal beside the amount or the price that it is about."""
        line = getattr(problem, "line", None)
        if line is not None and getattr(problem, "field", "") not in self.fields:
            row = next(row for row in self.rows if line.material in (row.known.row, row.known.key))
            about_price = getattr(problem, "field", "") in ("cost_per_l", "currency", "holds_from")
            field = row.price_field if about_price else row.stock_field
        super().refuse(problem, field)
