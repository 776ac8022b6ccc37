"""A collection by groups of plants: which stands in what container, how many, and on what mix now."""

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from friable.errors import BadFile, BadText, FriableError
from friable.planning.collection_cells import bare_centimetres, read_mix
from friable.planning.collection_table import LinesRefused, table_rows, too_many_cells
from friable.planning.collection_values import Mix
from friable.planning.container_text import parse_container
from friable.planning.fewest_card import carded, mix_key
from friable.planning.fewest_values import PotLine, Stand, Stands
from friable.planning.typed_text import MAX_CELL, plain
from friable.planning.units_in import count
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.reference.materials import Material
    from friable.reference.plant_groups import PlantGroup
    from friable.science.containers import Container

NEEDED = ("group", "count")
COLUMNS = ("group", "stage", "container", "count", "mix", "headspace")
MOST_STANDS = 200
MOST_MIXES = 200
MOST_POTS = 10_000_000


def read_stands(
    text: str,
    *,
    find_group: "Callable[[str], PlantGroup] | None" = None,
    read_container: "Callable[[str], Container]" = parse_container,
    find_material: "Callable[[str], Material] | None" = None,
    stored_mix: Callable[[str], Mix | None] | None = None,
) -> Stands:
    """Read a collection: rows under a header that names `COLUMNS`; group and count are needed.

    A stage may stand in its own column or behind the group (“epiphyte, grown”). Without a container the
    one is taken that the group's windows are meant for; without a mix nothing is known of the present one.

    Parameters
    ----------
    text : str
        Columns in any order, set apart by commas, semicolons or tabs.
    find_group : callable, optional
        From text to a group of plants with its windows; by default those of the tables.
    read_container, find_material, stored_mix : callable, optional
        As for `planning.collection.read_collection`.

    Raises
    ------
    LinesRefused
        One sentence for each line that cannot be read.
    BadFile
        If it is no table, has no such columns, or is too large.
    """
    header, rows = table_rows(text, NEEDED, COLUMNS)
    from friable.reference.plant_groups import find_plant_group

    look_up = find_group or find_plant_group

    @cache
    def group(cell: str) -> "PlantGroup":
        return look_up(cell)

    @cache
    def mix(cell: str) -> Mix:
        if stored_mix is not None and (own := stored_mix(" ".join(cell.split()))) is not None:
            return own
        return _with_published_card(read_mix(cell, find_material, None))

    @cache
    def container(cell: str, headspace: str) -> "Container":
        pot = read_container(cell)
        return pot.with_headspace(bare_centimetres(headspace, _("headspace"))) if headspace else pot

    def stand(cells: dict[str, str]) -> Stand:
        of = group(_group_text(cells.get("group", ""), cells.get("stage", "")))
        typed = " ".join(cells.get("container", "").split())
        if not typed and not of.container:
            raise BadText(
                _("container"), "", _("is empty"), _("Nothing is known of what {group} stands in.").format(
                    group=of.title
                )
            )  # fmt: skip
        return Stand(of, container(typed or of.container, cells.get("headspace", "")), typed or of.container)

    stands: dict[tuple[str, str], int] = {}
    distinct: list[Stand] = []
    mixes: dict[str, Mix] = {}
    lines: list[PotLine] = []
    refused: list[tuple[int, str]] = []
    for number, row in rows:
        if extra := too_many_cells(row, header):
            refused.append((number, extra))
            continue
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        try:
            one = stand(cells)
            present = mix(cells["mix"]) if cells.get("mix") else None
            pots = int(count(cells.get("count", ""), _("count")).exact)
        except FriableError as problem:
            refused.append((number, str(problem)))
            continue
        if present is not None:
            present = mixes.setdefault(mix_key(present), present)
        place = stands.setdefault(one.key, len(distinct))
        if place == len(distinct):
            distinct.append(one)
        lines.append(PotLine(number, place, pots, present))
    if refused:
        raise LinesRefused(refused)
    found = Stands(tuple(lines), tuple(distinct))
    for name, amount, most in (
        (_("groups in their containers"), len(found.stands), MOST_STANDS),
        (_("mixes"), len(mixes), MOST_MIXES),
        (_("pots"), found.pots, MOST_POTS),
    ):
        if amount > most:
            raise BadFile(
                _("The collection has {count} {things}; the most is {most}.").format(
                    count=f"{amount:,}", things=name, most=f"{most:,}"
                )
            )
    return found


def _with_published_card(mix: Mix) -> Mix:
    """Return a published mix with what is printed as added to it; a mix that was written out has no card."""
    from friable.planning.published_recipe import published_book
    from friable.reference.recipes import published_recipes

    printed = next((recipe for recipe in published_recipes() if recipe.name == mix.title), None)
    if printed is None:
        return mix
    within = published_book(printed).recipes
    return carded(
        mix, [a.name for one in published_recipes() if one.name in within for a in one.amendments], []
    )


def _group_text(group: str, stage: str) -> str:
    what = _("group")
    text = plain(group, what, MAX_CELL)
    if stage:
        text = f"{text}, {plain(stage, _('stage'), MAX_CELL)}"
    return " ".join(text.split())
