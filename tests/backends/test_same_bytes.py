"""The same drawing gives the same bytes, whoever draws it, where and when."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from drafter.backends.dxf import to_dxf
from drafter.backends.pdf import to_pdf
from drafter.backends.svg import sheet_to_svg
from drafter.drawing import Drawing

SCRIPT = """
import hashlib, runpy, sys
from drafter.backends.dxf import to_dxf
from drafter.backends.pdf import to_pdf
from drafter.backends.svg import sheet_to_svg
sample = runpy.run_path(sys.argv[1])["sample"]
for imperial in (False, True):
    drawing = sample(imperial)
    for version in ("R2000", "R2010", "R2018"):
        print(hashlib.sha256(to_dxf(drawing, ["plan"], ["M-101", "M-201"], version)).hexdigest())
    print(hashlib.sha256(to_pdf(drawing)).hexdigest())
    print(hashlib.sha256(sheet_to_svg(drawing, "M-101")).hexdigest())
"""


def hashes(drawing: Drawing) -> list[str]:
    files = [to_dxf(drawing, ["plan"], ["M-101", "M-201"], version) for version in ("R2000", "R2010", "R2018")]
    files += [to_pdf(drawing), sheet_to_svg(drawing, "M-101")]
    return [hashlib.sha256(data).hexdigest() for data in files]


@pytest.fixture(scope="module")
def here(metric: Drawing, imperial: Drawing) -> list[str]:
    return hashes(metric) + hashes(imperial)


@pytest.mark.parametrize(
    ("options", "surroundings"),
    [
        ([], {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LANG": "C"}),
        (["-O"], {"PYTHONHASHSEED": "2", "TZ": "America/Lima", "SOURCE_DATE_EPOCH": "1700000000"}),
        ([], {"PYTHONHASHSEED": "3", "USER": "somebody", "LOGNAME": "somebody"}),
    ],
)
def test_another_process_writes_the_same(
    here: list[str], options: list[str], surroundings: dict[str, str], tmp_path: Path
) -> None:
    (tmp_path / "ezdxf.ini").write_text("[core]\ndefault_dimension_text_style = Elsewhere\n")
    sample = Path(__file__).with_name("conftest.py")
    command = [sys.executable, *options, "-c", SCRIPT, str(sample)]
    environment = os.environ | surroundings
    done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=True)
    assert done.stdout.split() == here


def test_a_second_run_writes_the_same(here: list[str], metric: Drawing, imperial: Drawing) -> None:
    assert hashes(metric) + hashes(imperial) == here


def test_files_name_no_user_and_no_path(metric: Drawing) -> None:
    data = to_dxf(metric, ["plan"], ["M-101"]) + sheet_to_svg(metric, "M-101")
    for word in (str(Path.home()), str(Path.cwd()), os.uname().nodename):
        assert len(word) < 3 or word.encode() not in data
