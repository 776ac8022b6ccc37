"""Words as people type them, brought to one form so that they can be compared."""

import re
import unicodedata
from functools import lru_cache

TOKEN = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+")
LONGEST_NAME = 200  # nothing longer can be the name of a material or a pot

# American and older spellings -> the one used in the tables.
SPELLINGS = {
    "fiber": "fibre", "mold": "mould", "leafmold": "leafmould", "carbonized": "carbonised",
    "sterilized": "sterilised", "pulverized": "pulverised", "pasteurized": "pasteurised",
    "fines": "fines", "inch": "in", "inches": "in", "litres": "l", "litre": "l", "liters": "l", "liter": "l",
    "gallon": "gal", "gallons": "gal",
}  # fmt: skip
JOINED = {
    "super coarse": "supercoarse",
    "coco peat": "cocopeat",
    "peat moss": "peatmoss",
    "rock wool": "rockwool",
}


@lru_cache(maxsize=4096)
def tokens(text: str) -> frozenset[str]:
    """Return the words of a name: case, accents, plural and American spelling folded.

    Examples
    --------
    >>> sorted(tokens("Tree-Fern Fiber, 5–30mm"))
    ['30', '5', 'fern', 'fibre', 'mm', 'tree']
    """
    plain = unicodedata.normalize("NFKD", text[:LONGEST_NAME].casefold())
    plain = "".join(ch for ch in plain if not unicodedata.combining(ch))
    words = [_singular(SPELLINGS.get(word, word)) for word in TOKEN.findall(plain)]
    joined = f" {' '.join(words)} "
    for apart, together in JOINED.items():
        joined = joined.replace(f" {apart} ", f" {together} ")
    return frozenset(joined.split())


def _singular(word: str) -> str:
    if (
        word in SPELLINGS.values()
        or len(word) <= 3
        or not word.endswith("s")
        or word.endswith(("ss", "us", "is"))
    ):
        return word
    return word[:-1]


def nearest(text: str, known: dict[str, str], count: int = 4) -> list[str]:
    """Return the shown names whose spellings come nearest to a text, best first.

    Parameters
    ----------
    text : str
        What was typed.
    known : dict
        Spelling -> the name to show for it.
    """
    from difflib import get_close_matches

    spellings = {spelling.casefold(): shown for spelling, shown in known.items()}
    found = get_close_matches(text[:LONGEST_NAME].casefold(), spellings, n=3 * count, cutoff=0.6)
    return list(dict.fromkeys(spellings[spelling] for spelling in found))[:count]


def corrected(words: frozenset[str], vocabulary: frozenset[str]) -> frozenset[str]:
    """Return the words with each unknown one replaced by the nearest known one, if there is one."""
    from difflib import get_close_matches

    return frozenset(
        word
        if word in vocabulary
        else next(iter(get_close_matches(word, vocabulary, n=1, cutoff=0.75)), word)
        for word in words
    )
