"""A pot list as a spreadsheet saves it: one line of the job in each row."""

import csv
import io
from collections.abc import Callable
from typing import TYPE_CHECKING

from friable.errors import BadFile, FriableError, shown
from friable.planning.job_values import ROOTS, JobLine
from friable.planning.typed_text import MAX_TEXT
from friable.planning.units_in import centimetres, count
from friable.wording import gettext as _

if TYPE_CHECKING:
    from friable.science.containers import Container

NEEDED = ("container", "count")
COLUMNS = (*NEEDED, "headspace", "drainage_layer", "potted_from", "potted_from_headspace", "root")
SEPARATORS = ("\t", ";", ",")
MOST_LINES = 1000


def read_pot_list(
    text: str,
    read_container: "Callable[[str], Container]",
    *,
    headspace_cm: float | None = None,
) -> list[JobLine]:
    """Read rows under a header that names `COLUMNS`; container and count are needed.

    Parameters
    ----------
    text : str
        Columns in any order, set apart by commas, semicolons or tabs.
    read_container : callable
        From text to a container.
    headspace_cm : float, optional
        For rows that give none. [cm]

    Raises
    ------
    BadFile
        With the number of the line, if a row cannot be read.
    """
    if len(text) > MAX_TEXT:
        raise BadFile(
            _("The pot list has {count} characters; the most is {most}.").format(
                count=f"{len(text):,}", most=f"{MAX_TEXT:,}"
            )
        )
    if not text.strip():
        raise BadFile(_("The pot list is empty; its first line is container,count."))
    first = text.lstrip("\ufeff\r\n").splitlines()[0]
    separator = max(SEPARATORS, key=lambda mark: (first.count(mark), mark == ","))
    try:
        rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), delimiter=separator))
    except csv.Error:
        raise BadFile(_("The pot list cannot be read as a table; save it as CSV again.")) from None
    numbered = [(place, row) for place, row in enumerate(rows, start=1) if any(cell.strip() for cell in row)]
    header = [cell.strip().casefold().replace(" ", "_") for cell in numbered[0][1]]
    _check_header(header)
    if len(numbered) == 1:
        raise BadFile(_("The pot list has a header and no pots below it."))
    if len(numbered) > MOST_LINES + 1:
        raise BadFile(_("The pot list has more than {most} lines; split it.").format(most=f"{MOST_LINES:,}"))
    lines = []
    for place, row in numbered[1:]:
        if len(row) > len(header):
            raise BadFile(
                _("Line {line} of the pot list has {count} cells under {columns} columns.").format(
                    line=place, count=len(row), columns=len(header)
                )
            )
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        try:
            lines.append(_line(cells, read_container, headspace_cm))
        except FriableError as problem:
            raise BadFile(
                _("Line {line} of the pot list: {problem}").format(line=place, problem=problem)
            ) from None
    return lines


def _check_header(header: list[str]) -> None:
    for name in NEEDED:
        if name not in header:
            raise BadFile(
                _("The pot list has no column “{name}”; its first line names the columns: {columns}.").format(
                    name=name, columns=", ".join(COLUMNS)
                )
            )
    for name in header:
        if name not in COLUMNS:
            raise BadFile(
                _("The pot list has a column “{name}”, which is not known; known are: {columns}.").format(
                    name=shown(name), columns=", ".join(COLUMNS)
                )
            )
        if header.count(name) > 1:
            raise BadFile(_("The pot list has two columns “{name}”; keep one.").format(name=name))


def _line(
    cells: dict[str, str], read_container: "Callable[[str], Container]", headspace_cm: float | None
) -> JobLine:
    pot = read_container(cells.get("container", ""))
    if given := cells.get("headspace"):
        pot = pot.with_headspace(centimetres(given, _("headspace")).value)
    elif headspace_cm is not None:
        pot = pot.with_headspace(headspace_cm)
    if layer := cells.get("drainage_layer"):
        pot = pot.with_drainage_layer(centimetres(layer, _("drainage layer")).value)
    old = None
    if came_from := cells.get("potted_from"):
        old = read_container(came_from)
        if above := cells.get("potted_from_headspace"):
            old = old.with_headspace(centimetres(above, _("headspace of the old pot")).value)
    root = cells.get("root", "").casefold() or "root ball"
    if root not in ROOTS:
        raise BadFile(
            _("root is “{root}”; it must be one of: {roots}.").format(
                root=shown(root), roots=", ".join(ROOTS)
            )
        )
    return JobLine(pot, int(count(cells.get("count", ""), _("count")).exact), old, root)
