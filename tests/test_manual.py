"""Every rule and finding has a page, and the command line finds it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import drafter
from drafter.cli import main
from drafter.report.manual import manual_list, manual_page
from drafter.rules import RULES

PACKAGE = Path(drafter.__file__).parent
ID = r'"([A-Z]{3,5}\d{3})"'
SAMPLES = {"arguments.py", "site.py"}
"""Files that name an id as a sample only."""

IN_CODE = sorted(
    {
        id
        for path in PACKAGE.rglob("*.py")
        if path.name not in SAMPLES
        for id in re.findall(ID, path.read_text(encoding="utf-8"))
    }
)
IN_PAGES = re.findall(r"^([A-Z]+\d+):", (PACKAGE / "report" / "checks.yaml").read_text(encoding="utf-8"), re.MULTILINE)


@pytest.mark.parametrize("id", IN_CODE)
def test_every_id_in_the_code_has_a_page(id: str) -> None:
    page = manual_page(id)
    assert page is not None
    assert page.startswith(id)
    for head in ("why", "severity", "source"):
        assert re.search(rf"^{head} +\S", page, re.MULTILINE), head
    assert max(map(len, page.splitlines())) <= 100


def test_no_page_is_left_over() -> None:
    assert sorted(IN_PAGES) == sorted(set(IN_PAGES))
    assert set(IN_PAGES) | {rule.RULE.id for rule in RULES} == set(IN_CODE)


def test_the_page_of_a_rule_says_all_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "flow001"]) == 0
    page = capsys.readouterr().out
    heads = re.findall(r"^(\S.{10})\S", page, re.MULTILINE)[1:]
    said = [head.strip() for head in heads]
    assert said == ["what", "why", "passes", "fails", "threshold", "severity", "source", "your own"]
    assert "6.0 m/s (20 ft/s)" in page
    assert "error, warning, note" in page


def test_a_rule_that_guards_people_says_so() -> None:
    page = manual_page("RATE001")
    assert page is not None
    assert "guards people" in page
    assert "skip" not in page


def test_a_rule_that_guards_people_may_be_tightened() -> None:
    for id, said in (("PANEL001", "a higher limit"), ("BLOW001", "a lower limit"), ("TOOL001", "leaves it out")):
        page = manual_page(id)
        assert page is not None
        assert "guards people" in " ".join(page.split())
        assert said in " ".join(page.split())
        assert "skip" not in page


def test_the_list_has_them_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    assert re.findall(r"^  ([A-Z]+\d+) ", capsys.readouterr().out, re.MULTILINE) == [
        *(rule.RULE.id for rule in RULES),
        *IN_PAGES,
    ]
    assert f"ENGINEERING RULES ({len(RULES)})" in manual_list()


@pytest.mark.parametrize("asked, said", [("FLOW01", "did you mean FLOW001?"), ("what", "lists them all")])
def test_an_unknown_id_gets_the_nearest(asked: str, said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", asked]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert asked in err
    assert said in err


def test_explaining_loads_no_drawing_libraries() -> None:
    code = (
        "import sys; from drafter.cli import main; main(['explain', 'UNIT001']); "
        "print([name for name in ('ezdxf', 'reportlab', 'fontTools') if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, timeout=120)
    assert done.stderr.decode().strip() == "[]"
