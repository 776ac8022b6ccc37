"""How long a mix keeps once it is made."""

from datetime import date, timedelta


def use_by(made_on: date, within_days: int | None) -> date | None:
    """Return the last day to use a mix that was made on a day; None where it keeps.

    The day of mixing is day 0: made on 1 March and to be used within 14 days, it is used by 15 March.
    """
    return None if within_days is None else made_on + timedelta(days=within_days)
