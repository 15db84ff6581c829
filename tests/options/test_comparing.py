"""All choices of a site: each is what the site file gives when it is edited by hand; the whole is always the same."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

import drafter
from drafter.backends.pdf import to_pdf
from drafter.options import compare, options_drawing, options_json, options_text
from drafter.options.comparing import Comparison
from drafter.options.data import figures_data
from drafter.options.figures import figures_of
from drafter.options.variant import AS_GIVEN, LEVEL, MATERIAL, TOGETHER, WAY
from drafter.pipeline import design

TOP = Path(__file__).parents[2]
SCHEMA = json.loads((Path(drafter.__file__).parent / "options" / "schema.json").read_text(encoding="utf-8"))
PRICES = {"prices": {"3/8": "4.2", "1/2": "6.1", "3/4": "9.5", "1": "14"}}
OTHERS = {"other prices": {"steel pipe schedule 40": {"1/2": "4", "3/4": "5", "1": "7.5"}}}


def on_one_line(path: Path, **main: object) -> str:
    """A site file on one line, so that an edit moves nothing to another line, with more in its main."""
    data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return written(data | {"main": data["main"] | main})


def written(data: object) -> str:
    return yaml.dump(data, default_flow_style=True, width=1_000_000, allow_unicode=True, sort_keys=False)


def edited(text: str, changes: dict[str, Any]) -> str:
    data = yaml.load(text, Loader=yaml.BaseLoader)
    for key, value in changes.items():
        data["main"].pop(key, None)
        if value is not None:
            data["main"][key] = value
    return written(data)


YARD_FILE = TOP / "tests" / "data" / "keeps_every_rule.yaml"
TEXTS = {
    "doubtful material": on_one_line(TOP / "example_sites" / "bicycle_coop.yaml"),
    "feet and inches": on_one_line(TOP / "example_sites" / "cabinet_shop.yaml"),
    "prices": on_one_line(YARD_FILE, **PRICES, **OTHERS),
    "ring and tubes": on_one_line(
        YARD_FILE,
        material="aluminium tube",
        arrangement="ring",
        tubes=[{"outside": "25 mm", "bore": "21 mm"}, {"outside": "40 mm", "bore": "35.6 mm"}],
        size="40 x 2.2",
    ),
}


@pytest.fixture(scope="module", params=TEXTS)
def compared(request: pytest.FixtureRequest) -> tuple[str, Comparison]:
    text = TEXTS[request.param]
    return text, compare(text, "yard.yaml")


def test_each_choice_is_what_the_site_file_edited_by_hand_gives(compared: tuple[str, Comparison]) -> None:
    text, comparison = compared
    facts = options_json(comparison)["options"]
    assert len(facts) == len(comparison.options)
    for option, fact in zip(comparison.options, facts, strict=True):
        designed = design(edited(text, fact["changes"]), "yard.yaml")
        figures = figures_of(designed)
        assert (figures_data(figures) if figures else None) == fact["figures"]
        told = sorted((-f.severity, f.rule, f.message, f.subject) for f in designed.findings)
        assert sorted((-f.severity, f.rule, f.message, f.subject) for f in option.findings) == told


def test_the_job_as_given_comes_first_and_all_kinds_after_it(compared: tuple[str, Comparison]) -> None:
    text, comparison = compared
    kinds = [option.variant.group for option in comparison.options]
    assert kinds[0] == AS_GIVEN
    assert set(kinds[1:]) >= {MATERIAL, WAY, LEVEL}
    assert kinds.count(AS_GIVEN) == kinds.count(WAY) == 1
    assert 2 <= kinds.count(LEVEL) <= 5
    assert [option.id for option in comparison.options] == [str(n) for n in range(1, len(kinds) + 1)]
    assert comparison.findings == design(text, "yard.yaml").findings


def test_no_choice_stands_twice(compared: tuple[str, Comparison]) -> None:
    _, comparison = compared
    assert comparison.site is not None
    mains = [option.variant.site(comparison.site).main for option in comparison.options]
    seen = [(m.material, m.sizing, m.arrangement, m.height_m) for m in mains]
    assert len(set(seen)) == len(seen)


def test_json_keeps_to_the_schema(compared: tuple[str, Comparison]) -> None:
    facts = options_json(compared[1])
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.validate(facts, SCHEMA)
    assert [fact["id"] for fact in facts["options"] if fact["why_not"] is None] == [facts["take"]]


def test_the_same_file_gives_the_same_bytes() -> None:
    made = []
    for _ in range(2):
        comparison = compare(TEXTS["prices"], "yard.yaml")
        facts = json.dumps(options_json(comparison))
        made.append((facts, options_text(comparison), to_pdf(options_drawing(comparison))))
    assert made[0] == made[1]


def test_the_best_of_each_kind_are_drawn_up_together() -> None:
    comparison = compare(TEXTS["prices"], "yard.yaml")
    together = comparison.options[-1]
    assert together.variant.group == TOGETHER
    parts = together.variant.title.split(" together: ")[0].split(" and ")
    changes = {k: v for o in comparison.options if o.id in parts for k, v in o.variant.changes.items()}
    assert together.variant.changes == changes
    assert len(parts) == 2
    assert comparison.choice is not None
    assert comparison.choice.taken == together


def test_costs_are_those_of_the_pieces_at_the_prices_given() -> None:
    comparison = compare(TEXTS["prices"], "yard.yaml")
    designed = design(TEXTS["prices"], "yard.yaml")
    assert designed.takeoff is not None
    given = comparison.options[0].figures
    assert given is not None
    by_hand = sum(piece.cut_m * float(PRICES["prices"][piece.size]) for piece in designed.takeoff.pieces)
    assert given.tube_cost == pytest.approx(by_hand)
    assert given.cost is not None
    lowest, highest = (0.6 * given.fittings * float(PRICES["prices"][size]) for size in ("3/8", "3/4"))
    assert by_hand + lowest < given.cost < by_hand + highest
    priced = {o.figures.material for o in comparison.options if o.figures and o.figures.cost is not None}
    assert priced == {"copper tube type L", "steel pipe schedule 40"}


def test_a_file_that_cannot_be_read_gives_findings_only() -> None:
    comparison = compare("site: 1", "yard.yaml")
    assert comparison.site is None
    assert comparison.findings
    assert comparison.options == ()
    jsonschema.validate(options_json(comparison), SCHEMA)
    for say in (options_text, options_drawing):
        with pytest.raises(ValueError, match="no choices"):
            say(comparison)


def test_a_warning_of_the_text_holds_for_every_choice(yard_text: str) -> None:
    comparison = compare(yard_text.replace("Rule Yard", "Rule Yard 工"), "yard.yaml")
    assert all("TEXT002" in [f.rule for f in option.findings] for option in comparison.options)


def test_a_site_of_which_nothing_can_be_built_is_told(yard_text: str) -> None:
    low = yard_text.replace("ceiling: 3 m", "ceiling: 1.9 m").replace("height: 2.6 m", "height: 1.8 m")
    comparison = compare(low, "yard.yaml")
    assert comparison.choice is not None
    assert comparison.choice.taken is None
    assert set(comparison.choice.loses) == {option.id for option in comparison.options}
    assert "None of these can be built" in options_text(comparison)
    jsonschema.validate(options_json(comparison), SCHEMA)
    assert options_drawing(comparison).sheets


def test_a_dead_end_in_the_place_of_a_ring_says_what_it_gives_up(yard_text: str) -> None:
    comparison = compare(yard_text.replace("fall: 1 %", "fall: 1 %, arrangement: ring"), "yard.yaml")
    told = options_text(comparison)
    taken = comparison.choice.taken if comparison.choice else None
    assert taken is not None
    assert taken.variant.title == "dead end"
    assert "What it gives up: a ring is fed from both sides." in told
    ring = comparison.options[0].figures
    assert ring is not None
    assert len(ring.arms_shut) == 3
    assert all(f"with {shut.valve} shut" in told for shut in ring.arms_shut)


def test_where_no_ring_is_possible_the_reason_is_told() -> None:
    comparison = compare(TEXTS["doubtful material"], "yard.yaml")
    ring = next(option for option in comparison.options if option.variant.group == WAY)
    assert ring.figures is None
    assert ring.first_error is not None
    assert "the ring cannot be closed" in ring.first_error.message
    assert ring.first_error.message in options_text(comparison)
