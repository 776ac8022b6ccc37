"""The accessibility checker, run inside the page."""

from pathlib import Path

AXE = Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js"


def violations(page) -> list[str]:
    """Return what the checker finds on a page, a line each."""
    page.evaluate(AXE.read_text())
    found = page.evaluate("async () => (await axe.run(document)).violations")
    return [f"{one['id']}: {one['help']}: {node['html'][:120]}" for one in found for node in one["nodes"]]
