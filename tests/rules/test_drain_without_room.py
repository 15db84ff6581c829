from __future__ import annotations

from pathlib import Path

import pytest

from drafter.pipeline import design
from drafter.rules import drain_without_room as rule

SITE = (Path(__file__).parents[1] / "bad_sites" / "missing_unit.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "bench, room, found",
    [("700 mm", 0.2, 0), ("900 mm", 0.15, 0), ("950 mm", 0.1, 1), ("1100 mm", -0.05, 1)],
)
def test_room_over_a_bench(bench: str, room: float, found: int) -> None:
    """The outlet is at 1.2 m; its drip leg is 0.3 m, or less to clear the bench by 0.15 m, but at least 0.15 m."""
    text = SITE.split("  # finding")[0] + " m" + SITE.partition("# finding: UNIT001")[2]
    text = text.replace("from left: 3 m, width: 3 m}", f"from left: 3 m, width: 3 m, height: {bench}}}")
    done = design(text, "bench.yaml")
    assert done.design is not None, done.findings
    layout = done.design.network.layout
    drains = {layout.runs_at[n.id][0].outlet: n.at.z for n in layout.nodes.values() if n.tag.startswith("D-")}
    assert drains["A1"] - float(bench.split()[0]) / 1000 == pytest.approx(room, abs=0.006)
    findings = [finding for finding in rule.check(done.design) if finding.subject == "A1"]
    assert len(findings) == found


def test_no_bench_no_finding() -> None:
    text = SITE.replace("2.9  # finding: UNIT001", "2.9 m")
    text = text.replace("{kind: bench, wall: north, from left: 3 m", "{kind: bench, wall: south, from left: 4 m")
    done = design(text, "bare.yaml")
    assert done.design is not None, done.findings
    assert list(rule.check(done.design)) == []
