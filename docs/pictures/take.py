"""Take the pictures of the documentation anew from a server that runs with the invented glasshouse.

make run        # in one window
.venv/bin/python docs/pictures/take.py http://127.0.0.1:8000
"""

import subprocess
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
CHROMIUM = {
    "executable_path": "/usr/bin/chromium",
    "args": ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
}
RECIPE = "5+pine+bark+nursery+%2B+1+sphagnum+peat+medium+%2B+1+perlite+coarse"
MIX = f"/mixes/write?recipe={RECIPE}&container=2+L+pot"


def main(server: str) -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(**CHROMIUM)
        page = browser.new_page(viewport={"width": 1280, "height": 860})
        page.goto(server + MIX)
        page.wait_for_load_state("networkidle")
        page.screenshot(path=HERE / "mixes.png")
        page.locator("main svg").first.screenshot(path=HERE / "pot-section.png")
        page.goto(server + "/")
        batch = page.locator("main a[href^='/batches/']").first.inner_text().split()[0]
        sheet = page.request.get(f"{server}/sheets/batch/{batch}")
        pdf = HERE / "batch-sheet.pdf"
        pdf.write_bytes(sheet.body())
        browser.close()
    command = ["pdftoppm", "-png", "-gray", "-r", "72", "-singlefile", str(pdf), str(HERE / "batch-sheet")]
    subprocess.run(command, check=True)  # noqa: S603 - our own arguments
    pdf.unlink()


if __name__ == "__main__":
    main(sys.argv[1])
