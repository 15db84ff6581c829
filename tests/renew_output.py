"""Draws every example site into output/ and makes a picture of its plan: `python tests/renew_output.py`."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pypdfium2

TOP = Path(__file__).parents[1]
PICTURE_WIDTH = 1800
FIRST_PLAN = "-101"


def main() -> None:
    sites = sorted((TOP / "example_sites").glob("*.yaml"))
    names = [str(site.relative_to(TOP)) for site in sites]
    subprocess.run([sys.executable, "-m", "drafter", "draw", *names, "--into", "output"], check=True, cwd=TOP)
    for site in sites:
        folder = TOP / "output" / site.stem
        with pypdfium2.PdfDocument(folder / "sheets.pdf") as document:
            labels = [document.get_page_label(number) for number in range(len(document))]
            page = document[next(number for number, label in enumerate(labels) if label.endswith(FIRST_PLAN))]
            picture = page.render(scale=PICTURE_WIDTH / page.get_width()).to_pil()
        picture.quantize(16).save(folder / "plan-sheet.png", optimize=True)


if __name__ == "__main__":
    main()
