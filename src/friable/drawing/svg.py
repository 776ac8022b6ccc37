"""SVG elements with presentation attributes; text and attributes are escaped by the standard library."""

from xml.etree import ElementTree as ET  # builds only, reads nothing

Point = tuple[float, float]


def picture(width: float, height: float, **attributes: object) -> ET.Element:
    """Return an empty drawing whose user unit is one CSS pixel."""
    root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg"})
    return _set(
        root,
        {"viewBox": f"0 0 {number(width)} {number(height)}", "width": width, "height": height, **attributes},
    )


def add(parent: ET.Element, tag: str, text: str | None = None, **attributes: object) -> ET.Element:
    """Add an element; `stroke_width` becomes `stroke-width`, `class_` becomes `class`."""
    element = _set(ET.SubElement(parent, tag), attributes)
    element.text = text
    return element


def closed(points: list[Point]) -> str:
    """Return path data of a closed outline."""
    return opened(points) + "Z"


def opened(points: list[Point]) -> str:
    """Return path data of a line."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def number(value: float) -> str:
    """Return a coordinate with up to three decimals, plain notation."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def written(root: ET.Element) -> str:
    """Return the drawing as text."""
    return ET.tostring(root, encoding="unicode")


def _set(element: ET.Element, attributes: dict[str, object]) -> ET.Element:
    for name, value in attributes.items():
        plain = name.rstrip("_")
        if plain not in ("viewBox", "patternUnits", "patternTransform"):
            plain = plain.replace("_", "-")
        element.set(plain, number(value) if isinstance(value, int | float) else str(value))
    return element
