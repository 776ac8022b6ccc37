"""How people write units, and which names say too little to be used."""

from fractions import Fraction

from friable.science import conversion as by
from friable.wording import gettext as _

ONE = Fraction(1)
MILLI = Fraction(1, 1000)

LITRES = {
    "l": ONE, "ltr": ONE, "litre": ONE, "liter": ONE, "dm3": ONE, "dm³": ONE,
    "dl": Fraction(1, 10), "cl": Fraction(1, 100),
    "ml": MILLI, "millilitre": MILLI, "milliliter": MILLI, "cc": MILLI, "cm3": MILLI, "cm³": MILLI,
    "m3": Fraction(1000), "m³": Fraction(1000), "cubic metre": Fraction(1000), "cubic meter": Fraction(1000),
    "cu m": Fraction(1000),
    "cu ft": by.L_PER_CUBIC_FOOT, "cuft": by.L_PER_CUBIC_FOOT, "cf": by.L_PER_CUBIC_FOOT,
    "ft3": by.L_PER_CUBIC_FOOT, "ft³": by.L_PER_CUBIC_FOOT, "cubic foot": by.L_PER_CUBIC_FOOT,
    "cubic feet": by.L_PER_CUBIC_FOOT,
    "cu yd": by.L_PER_CUBIC_YARD, "yd3": by.L_PER_CUBIC_YARD, "yd³": by.L_PER_CUBIC_YARD,
    "cubic yard": by.L_PER_CUBIC_YARD,
    "cu in": by.L_PER_CUBIC_INCH, "in3": by.L_PER_CUBIC_INCH, "in³": by.L_PER_CUBIC_INCH,
    "cubic inch": by.L_PER_CUBIC_INCH,
    "us gallon": by.L_PER_US_GALLON, "us gal": by.L_PER_US_GALLON, "us liquid gallon": by.L_PER_US_GALLON,
    "us liquid gal": by.L_PER_US_GALLON,
    "us dry gallon": by.L_PER_US_DRY_GALLON, "us dry gal": by.L_PER_US_DRY_GALLON,
    "us liquid quart": by.L_PER_US_LIQUID_QUART, "us liquid qt": by.L_PER_US_LIQUID_QUART,
    "liquid quart": by.L_PER_US_LIQUID_QUART, "liquid qt": by.L_PER_US_LIQUID_QUART,
    "us dry quart": by.L_PER_US_DRY_QUART, "us dry qt": by.L_PER_US_DRY_QUART,
    "dry quart": by.L_PER_US_DRY_QUART, "dry qt": by.L_PER_US_DRY_QUART,
    "us liquid pint": by.L_PER_US_LIQUID_PINT, "us liquid pt": by.L_PER_US_LIQUID_PINT,
    "us dry pint": by.L_PER_US_DRY_PINT, "us dry pt": by.L_PER_US_DRY_PINT,
    "us fl oz": by.L_PER_US_FLUID_OUNCE, "us fluid ounce": by.L_PER_US_FLUID_OUNCE,
    "us bushel": by.L_PER_US_BUSHEL, "us bu": by.L_PER_US_BUSHEL, "us peck": by.L_PER_US_PECK,
    "imperial gallon": by.L_PER_IMPERIAL_GALLON, "imperial gal": by.L_PER_IMPERIAL_GALLON,
    "imperial quart": by.L_PER_IMPERIAL_QUART, "imperial qt": by.L_PER_IMPERIAL_QUART,
    "imperial pint": by.L_PER_IMPERIAL_PINT, "imperial pt": by.L_PER_IMPERIAL_PINT,
    "imperial fl oz": by.L_PER_IMPERIAL_FLUID_OUNCE, "imperial fluid ounce": by.L_PER_IMPERIAL_FLUID_OUNCE,
    "imperial bushel": by.L_PER_IMPERIAL_BUSHEL, "imperial bu": by.L_PER_IMPERIAL_BUSHEL,
    "imperial peck": by.L_PER_IMPERIAL_PECK,
}  # fmt: skip

CENTIMETRES = {
    "cm": ONE, "centimetre": ONE, "centimeter": ONE, "mm": Fraction(1, 10), "millimetre": Fraction(1, 10),
    "millimeter": Fraction(1, 10), "m": Fraction(100), "metre": Fraction(100), "meter": Fraction(100),
    "in": by.CM_PER_INCH, "inch": by.CM_PER_INCH, '"': by.CM_PER_INCH, "″": by.CM_PER_INCH,
    "”": by.CM_PER_INCH, "''": by.CM_PER_INCH, "ft": by.CM_PER_FOOT, "foot": by.CM_PER_FOOT,
    "feet": by.CM_PER_FOOT,
}  # fmt: skip

GRAMS = {
    "g": ONE, "gr": ONE, "gram": ONE, "gramme": ONE, "mg": MILLI, "milligram": MILLI,
    "kg": Fraction(1000), "kilo": Fraction(1000), "kilogram": Fraction(1000), "kilogramme": Fraction(1000),
    "t": by.G_PER_TONNE, "tonne": by.G_PER_TONNE, "metric ton": by.G_PER_TONNE,
    "us ton": by.G_PER_US_SHORT_TON, "us short ton": by.G_PER_US_SHORT_TON,
    "short ton": by.G_PER_US_SHORT_TON,
    "imperial ton": by.G_PER_IMPERIAL_LONG_TON, "long ton": by.G_PER_IMPERIAL_LONG_TON,
    "lb": by.G_PER_POUND, "lbs": by.G_PER_POUND, "pound": by.G_PER_POUND,
    "oz": by.G_PER_OUNCE, "ounce": by.G_PER_OUNCE,
}  # fmt: skip

# Names that two trades use for different things: which to write instead.
SAYS_TOO_LITTLE = {
    "gallon": ("US gallon", "US dry gallon", "imperial gallon"),
    "quart": ("US dry quart", "US liquid quart", "imperial quart"),
    "us quart": ("US dry quart", "US liquid quart"),
    "pint": ("US dry pint", "US liquid pint", "imperial pint"),
    "us pint": ("US dry pint", "US liquid pint"),
    "fluid ounce": ("US fl oz", "imperial fl oz"),
    "bushel": ("US bushel", "imperial bushel"),
    "peck": ("US peck", "imperial peck"),
    "ton": ("tonne", "US short ton", "imperial long ton"),
}
SHORT = {"gal": "gallon", "qt": "quart", "pt": "pint", "bu": "bushel", "fl oz": "fluid ounce"}
TRADE_POT = {"trade gallon", "#1", "no 1"}

SPOONS = {
    "tbsp", "tablespoon", "tsp", "teaspoon", "spoon", "dessertspoon", "dsp", "cup", "handful", "pinch",
    "scoop",
    "capful",
}  # fmt: skip
OWN_VESSELS = {
    "bucket",
    "barrow",
    "wheelbarrow",
    "bag",
    "sack",
    "bale",
    "block",
    "brick",
    "pot",
    "shovel",
    "bin",
}


def tidy(unit: str) -> str:
    """Return a unit as the tables spell it: small letters, no dots, no plural, “imperial” written out."""
    words = unit.casefold().replace(".", " ").split()
    spelled = {
        "imp": "imperial",
        "uk": "imperial",
        "u": "",
        "american": "us",
        "usa": "us",
        "british": "imperial",
    }
    if words[:2] == ["u", "s"]:
        words = ["us", *words[2:]]
    text = " ".join(spelled.get(word, word) for word in words).strip()
    every = {
        *LITRES, *CENTIMETRES, *GRAMS, *SAYS_TOO_LITTLE, *SHORT, *SPOONS, *OWN_VESSELS, *TRADE_POT
    }  # fmt: skip
    if text in every:
        return text
    if text == "inches":
        return "inch"
    if text == "cubic inches":
        return "cubic inch"
    if text.endswith("es") and text[:-2] in every:
        return text[:-2]
    if text.endswith("s") and text[:-1] in every:
        return text[:-1]
    return text


def choices(unit: str) -> tuple[str, ...]:
    """Return what a tidy unit that says too little could mean; empty if it says enough."""
    return SAYS_TOO_LITTLE.get(SHORT.get(unit, unit), SAYS_TOO_LITTLE.get(_us_short(unit), ()))


def _us_short(unit: str) -> str:
    first, _space, last = unit.partition(" ")
    return f"us {SHORT.get(last, last)}" if first == "us" else unit


def any_of(names: tuple[str, ...]) -> str:
    """Return names as a choice: “a, b or c”."""
    if len(names) == 1:
        return names[0]
    return _("{first} or {last}").format(first=", ".join(names[:-1]), last=names[-1])
