"""What a potting job should be told beside its litres."""

import re
from collections.abc import Sequence

from friable.errors import shown
from friable.planning.job_values import LineDetail, Stage
from friable.planning.recipe import RecipeBook
from friable.science.containers import Container
from friable.wording import gettext as _

NOMINAL = re.compile(r"\b(\d+(?:\.\d+)?) L\b")
SAME_CM = 0.05


def job_advice(
    details: Sequence[LineDetail],
    book: RecipeBook,
    stages: Sequence[Stage],
    unknown_states: Sequence[tuple[str, str]],
    shrinkage_given: bool,
) -> list[str]:
    """Return plain sentences: what the quick sum leaves out, what was assumed, what is unfinished."""
    said = [_quick_sum(detail) for detail in details]
    for detail in details:
        if detail.root == "bare root":
            said.append(_("Bare roots are counted as taking no room; expect a little mix to be left over."))
            break
    unmeasured = [
        stage.mix
        for place, stage in enumerate(stages)
        if book.recipes[stage.mix].shrinkage is None and not (place == 0 and shrinkage_given)
    ]
    if unmeasured:
        said.append(
            _(
                "No shrinkage is known for {mixes}, so none is allowed for; count buckets in and out once, "
                "and write it down."
            ).format(mixes=", ".join(shown(mix) for mix in unmeasured))
        )
    for name, state in dict.fromkeys(unknown_states):
        said.append(
            _(
                "How much {name} measured {state} gives loose and moist is not known; counted one for one."
            ).format(name=shown(name), state=state)
        )
    for stage in stages:
        if book.recipes[stage.mix].incomplete:
            said.append(
                _("{mix} is kept as a note and is not complete; do not use it as it stands.").format(
                    mix=shown(stage.mix)
                )
            )
    return said


def _quick_sum(detail: LineDetail) -> str:
    """Say what count × pot size would have left out."""
    pot = detail.container
    nominal = nominal_l(pot)
    size = pot.brim_volume_l if nominal is None else nominal
    left_out = [_("taper")] if nominal is not None and pot.bottom_length_cm != pot.top_length_cm else []
    if pot.headspace_cm:
        left_out.append(_("headspace"))
    if pot.drainage_layer_cm:
        left_out.append(_("the drainage layer"))
    if detail.root_ball_l:
        left_out.append(_("the root ball"))
    if not left_out:
        return _("{count} × {size:.3g} L = {product:.4g} L to the brim.").format(
            count=detail.count, size=size, product=detail.count * size
        )
    return _("{count} × {size:.3g} L = {product:.3g} L ignores {what}; {net:.3g} L is what goes in.").format(
        count=detail.count,
        size=size,
        product=detail.count * size,
        what=_listed(left_out),
        net=detail.net_l,
    )


def _listed(words: Sequence[str]) -> str:
    if len(words) == 1:
        return words[0]
    return _("{first} and {last}").format(first=", ".join(words[:-1]), last=words[-1])


def nominal_l(pot: Container) -> float | None:
    """Return the litres by which a published container of this size is sold, such as 2 for “2 L (C2)”."""
    from friable.reference.containers import known_containers

    for known in known_containers():
        same = known.container
        if same is None or same.shape != pot.shape:
            continue
        pairs = (
            (same.top_length_cm, pot.top_length_cm),
            (same.top_width_cm, pot.top_width_cm),
            (same.bottom_length_cm, pot.bottom_length_cm),
            (same.height_cm, pot.height_cm),
        )
        if all(abs(a - b) < SAME_CM for a, b in pairs) and (found := NOMINAL.search(known.name)):
            return float(found[1])
    return None
