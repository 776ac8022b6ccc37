"""Which column of a logger's file is which: guessed from its header, asked where the header does not say."""

import re
from collections.abc import Mapping, Sequence

from friable.errors import BadFile, shown
from friable.wording import gettext as _

NEEDED = ("time", "temperature", "humidity")
PARTED = ("date", "clock")  # in place of time, where a file keeps day and clock apart
CHOICES = {
    "date_order": ("dmy", "mdy"),
    "temperature_unit": ("C", "F"),
    "humidity_unit": ("%", "share"),
    "light_unit": ("W/m2", "lux", "umol"),
}
KEYS = (*NEEDED, *PARTED, "light", *CHOICES)
HEADERS_SAID = 12

# What headers call them, in a few languages; a word of the second list rules a column out.
CALLED = {
    "time": (
        r"time|date|datum|zeit|fecha|hora|heure|tijd|stamp|recorded|created|^ts$",
        r"zone|interval|elapsed|uptime",
    ),
    "date": (r"date|datum|fecha|day\b|\btag\b", r"time|zone"),
    "clock": (r"time|clock|zeit|hora|heure|tijd", r"date|zone|interval|elapsed|uptime|stamp"),
    "temperature": (
        r"temp|celsius|fahrenheit|(^|[^a-z])t(air)?\s*[\[(]?\s*°?\s*[cf]\b",
        r"dew|stempel|stamp|wet|soil|leaf|tau|rosée|roc[ií]o|set|min\b|max\b|board|chip|internal",
    ),
    "humidity": (
        r"humid|hum(?![a-z])|(^|[^a-z])r\.?\s?h(?![a-z])|feuchte|vochtigheid|humed|humidit|hygro",
        r"abs|soil|leaf|dew|set|spec",
    ),
    "light": (
        r"lux|light|radiation|solar|irradi|\bpar\b|ppfd|pyran|w\s*/\s*m|licht",
        r"night|status|uv|on/off",
    ),
}
FAHRENHEIT = r"℉|°\s*f\b|º\s*f\b|deg\.?\s*f\b|[\[(]\s*f\s*[\])]|[_ ]f$|fahrenheit"
CELSIUS = r"℃|°\s*c\b|º\s*c\b|deg\.?\s*c\b|[\[(]\s*c\s*[\])]|[_ ]c$|celsius|centigrade|\ufffdc\b"
PER_CENT = r"%|pct|per\s?cent|prozent"
LIGHT_UNITS = (
    ("lux", r"lux|\blx\b"),
    ("umol", r"mol|ppfd|\bpar\b"),
    ("W/m2", r"w\s*/\s*m|w\s?m-?2|watt|w_m2"),
)


class ColumnsWanted(BadFile):
    """A file whose columns must be named once before it can be read.

    `headers` are the columns seen, `guess` the best answer to each question, `asked` the questions that only
    the keeper of the file can answer, `sample` its first rows.
    """

    def __init__(
        self,
        headers: Sequence[str],
        guess: Mapping[str, str],
        asked: Sequence[str],
        sample: Sequence[Sequence[str]] = (),
    ) -> None:
        self.headers, self.guess, self.asked = tuple(headers), dict(guess), tuple(asked)
        self.sample = tuple(tuple(row) for row in sample)
        said = ", ".join(f"“{shown(header)}”" for header in headers[:HEADERS_SAID])
        if len(headers) > HEADERS_SAID:
            said += ", …"
        super().__init__(
            _("The weather file has the columns {headers}; say {questions}.").format(
                headers=said, questions="; ".join(self._question(key) for key in asked)
            )
        )

    def _question(self, key: str) -> str:
        questions = {
            "time": _("which holds date and time"),
            "date": _("which holds the date"),
            "clock": _("which holds the time of day"),
            "temperature": _("which holds the temperature of the air"),
            "humidity": _("which holds the relative humidity"),
            "light": _("which holds the light"),
            "date_order": _("whether its dates are day/month or month/day (dmy or mdy)"),
            "temperature_unit": _("whether the temperature is in °C or °F (C or F)"),
            "humidity_unit": _("whether the humidity is in per cent or a share of 1 (% or share)"),
            "light_unit": _("whether the light is in W/m2, lux or umol"),
        }
        best = self.guess.get(key)
        return questions[key] + (_(" (perhaps {guess})").format(guess=shown(best)) if best else "")


def candidates(key: str, headers: Sequence[str]) -> list[str]:
    """Return the headers that may be meant by a key, in their order."""
    yes, no = CALLED[key]
    return [h for h in headers if re.search(yes, h, re.IGNORECASE) and not re.search(no, h, re.IGNORECASE)]


def guessed_columns(headers: Sequence[str]) -> tuple[dict[str, str], list[str]]:
    """Return the best guess for each column, and the keys for which not exactly one header would do."""
    guess: dict[str, str] = {}
    unsure: list[str] = []
    dates, clocks = candidates("date", headers), candidates("clock", headers)
    if len(dates) == 1 and len(clocks) == 1 and dates != clocks:
        guess |= {"date": dates[0], "clock": clocks[0]}
        wanted: tuple[str, ...] = ("temperature", "humidity")
    else:
        wanted = NEEDED
    for key in wanted:
        found = candidates(key, headers)
        if found:
            guess[key] = found[0]
        if len(found) != 1:
            unsure.append(key)
    if lights := candidates("light", headers):
        guess["light"] = lights[0]
        if len(lights) > 1:
            unsure.append("light")
    return guess, unsure


def unit_of_temperature(header: str) -> str:
    """Return “C” or “F” if the header says so, else nothing."""
    if re.search(FAHRENHEIT, header, re.IGNORECASE):
        return "F"
    return "C" if re.search(CELSIUS, header, re.IGNORECASE) else ""


def unit_of_light(header: str) -> str:
    """Return the unit of light if the header says so, else nothing."""
    for unit, pattern in LIGHT_UNITS:
        if re.search(pattern, header, re.IGNORECASE):
            return unit
    return ""


def says_per_cent(header: str) -> bool:
    """Say whether the header of the humidity names per cent."""
    return re.search(PER_CENT, header, re.IGNORECASE) is not None


def check_answers(columns: Mapping[str, str], headers: Sequence[str]) -> dict[str, str]:
    """Return the answers given once, empty ones left out.

    Raises
    ------
    BadFile
        If an answer is to no question, names a column that is not there, or is none of the choices.
    """
    given = {key: value.strip() for key, value in columns.items() if value and value.strip()}
    for key, value in given.items():
        if key not in KEYS:
            raise BadFile(
                _("“{key}” is no column of the weather; known are: {keys}.").format(
                    key=shown(key), keys=", ".join(KEYS)
                )
            )
        if key in CHOICES:
            if value not in CHOICES[key]:
                raise BadFile(
                    _("{key} is “{value}”; it must be one of: {choices}.").format(
                        key=key, value=shown(value), choices=", ".join(CHOICES[key])
                    )
                )
        elif value not in headers:
            raise BadFile(
                _("The weather file has no column “{name}”; it has: {headers}.").format(
                    name=shown(value), headers=", ".join(shown(h) for h in headers[:HEADERS_SAID])
                )
            )
    return given
