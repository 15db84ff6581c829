"""What a job in feet and inches leaves open is taken in round inches; what is said, or fixed by a source, stays."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from drafter.pipeline import design
from drafter.quantity.kinds import INCH_M
from drafter.site import Site

SHOP = (Path(__file__).parents[2] / "example_sites" / "cabinet_shop.yaml").read_text(encoding="utf-8")
SiteOf = Callable[[str], Site]


def inches(length_m: float) -> float:
    return pytest.approx(length_m / INCH_M, abs=1e-9)


def test_lengths_left_open_are_round_inches(site_of: SiteOf) -> None:
    shop = site_of(SHOP).rooms["shop"]
    site = site_of(SHOP)
    assert inches(shop.wall_thickness_m) == 6
    assert inches(site.main.drop_off_wall_m) == 2.5
    assert inches(shop.openings[0].headroom_m) == 16
    assert inches(site.main.drain_height_m) == 12


def test_what_is_said_or_fixed_by_a_source_stays(site_of: SiteOf) -> None:
    site = site_of(SHOP.replace("fall: 1/8 in per ft}", "fall: 1/8 in per ft, drop off wall: 70 mm}"))
    assert site.main.drop_off_wall_m == pytest.approx(0.07)
    assert site.rooms["shop"].keep_clear[0].depth_m == pytest.approx(0.914)


def test_metric_sites_keep_their_millimetres(shed: str, site_of: SiteOf) -> None:
    site = site_of(shed)
    assert (site.rooms["shed"].wall_thickness_m, site.main.drop_off_wall_m) == (0.15, 0.06)


def test_main_and_outlets_stand_off_the_wall_by_what_a_tape_shows() -> None:
    layout = design(SHOP, "shop.yaml").layout
    assert layout is not None
    for node in (*layout.couplings, *layout.take_offs.values()):
        off_m = layout.site.wall(node.room, node.wall).measure(node.at.plan)[1]
        assert off_m / (INCH_M / 2) == pytest.approx(round(off_m / (INCH_M / 2)), abs=1e-6)
