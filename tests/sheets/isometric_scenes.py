"""Scenes of the example sites and of sites made by chance, for tests of the isometric alone."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from made_by_chance import site_text

from drafter.pipeline import design
from drafter.sheets.layers import Layers
from drafter.sheets.scene import Scene
from drafter.symbol_library import load_all

EXAMPLES = {path.stem: path for path in sorted((Path(__file__).parents[2] / "example_sites").glob("*.yaml"))}
NAMES = list(EXAMPLES)
SEEDS = (3, 5, 9, 10, 12, 16, 18)


@cache
def scene_of(name: str | int) -> Scene:
    """The scene of an example, or of the site made by chance from a number."""
    text = EXAMPLES[name].read_bytes() if isinstance(name, str) else site_text(name)
    done = design(text, f"{name}.yaml")
    assert done.design is not None
    assert done.takeoff is not None
    return Scene(done.design, done.takeoff, dict(load_all()), Layers("M"), {})
