"""How long the route takes: prints outlets, terminals, seconds, and how far above the shortest it may be."""

from __future__ import annotations

import time

from generated_site import site_text

from drafter.layout import lay_out
from drafter.site import read


def main() -> None:
    for outlets, rooms in ((10, 2), (100, 5), (200, 8), (1000, 16)):
        text = site_text(outlets, rooms, seed=1)
        if outlets > 500:
            text = text.replace("0.5 %", "0.02 %")
        site, findings = read(text, "made.yaml")
        assert site is not None, findings[0]
        start = time.perf_counter()
        layout, findings = lay_out(site)
        taken_s = time.perf_counter() - start
        words = layout.reasons[0] if layout else findings[0].message
        print(f"{outlets:5d} outlets in {rooms:2d} rooms: {taken_s:6.2f} s  {words[:160]}")


if __name__ == "__main__":
    main()
