"""A pot weighed twice, written down with the factor that it gives."""

from friable.errors import Refused
from friable.records.actions.act import act, in_the_past, keep
from friable.records.models import PotWeighing
from friable.wording import gettext as _


@act
def weigh_twice(container, *, by, first_at, second_at, factor, climate=None, **values):
    """Write two weighings down; `factor` is an Estimate, worked out by `planning.weighing`."""
    return keep(
        PotWeighing(
            container=container,
            climate=climate,
            done_by=by,
            first_at=in_the_past(first_at, _("The time of the first weighing")),
            second_at=in_the_past(second_at, _("The time of the second weighing")),
            factor=factor.value,
            factor_low=factor.low,
            factor_high=factor.high,
        ),
        **values,
    )


@act
def withdraw_weighing(weighing, *, by, reason):
    """Withdraw a wrong weighing in the open: it stays, with who and why, and counts no more."""
    if weighing.withdrawn_at:
        raise Refused(_("This weighing is withdrawn already."))
    return keep(weighing, withdrawn_by=by, withdrawn_at=in_the_past(None, ""), withdrawn_reason=reason)
