"""The files of a set, as the command line and the site file ask for them."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from drafter.cli import main
from drafter.drawing import Drawing
from drafter.files import DxfChoice, dxf_makers
from drafter.pipeline import compose_drawing, design

SITE = Path(__file__).parent / "data" / "keeps_every_rule.yaml"
RELEASES = {
    "R12": "AC1009", "R2000": "AC1015", "R2007": "AC1021", "R2010": "AC1024", "R2013": "AC1027", "R2018": "AC1032",
}  # fmt: skip
LAYERS = "layers: {M-CMPA-PIPE-MAIN: {name: AIR-MAIN, colour: 140}, G-ANNO-VPRT: {name: WINDOWS}}"

Drawn = Callable[..., dict[str, Any]]


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    return compose_drawing(design(SITE.read_bytes(), SITE.name))


@pytest.fixture
def drawn(tmp_path: Path) -> Drawn:
    """What draws the site with other arguments, or with more in its file, and reads the files for CAD."""

    def draw(*arguments: str, more: str = "") -> dict[str, Any]:
        site = tmp_path / "site.yaml"
        site.write_text(SITE.read_text(encoding="utf-8") + more, encoding="utf-8")
        assert main(["draw", str(site), "--into", str(tmp_path), *arguments]) == 0
        return {path.name: ezdxf.readfile(path) for path in (tmp_path / "site").glob("*.dxf")}

    return draw


@pytest.mark.parametrize("release", RELEASES)
def test_every_file_is_of_the_release_asked_for(
    release: str, drawing: Drawing, capfd: pytest.CaptureFixture[str]
) -> None:
    for make in dxf_makers(drawing, DxfChoice(release, "plan and elevations")).values():
        text = make().decode("cp1252" if release in ("R12", "R2000") else "utf-8")
        assert ezdxf.read(StringIO(text)).dxfversion == RELEASES[release]
    assert capfd.readouterr() == ("", ""), "the library says nothing of its own"


def test_views_stand_together_as_asked_for(drawing: Drawing) -> None:
    views = {view.name for view in drawing.views}
    always = {"model.dxf", "space.dxf"}
    assert set(dxf_makers(drawing, DxfChoice("R2010", "one"))) == {"drawing.dxf"} | always
    assert set(dxf_makers(drawing, DxfChoice("R2010", "each view"))) == {f"{name}.dxf" for name in views} | always
    (whole, *_) = dxf_makers(drawing, DxfChoice("R2010", "one")).values()
    names = ezdxf.read(StringIO(whole().decode())).layouts.names()
    assert names == ["Model", *(sheet.number for sheet in drawing.sheets)]


def test_the_command_line_chooses(drawn: Drawn, tmp_path: Path) -> None:
    ours = tmp_path / "ours.yaml"
    ours.write_text(LAYERS.replace("M-CMPA", "P-CMPA"), encoding="utf-8")
    choices = ("--paper", "a2", "--discipline", "p", "--plot-style", "Black", "--dxf-version", "r2018")
    files = drawn(*choices, "--layers", str(ours))
    for document in files.values():
        assert document.dxfversion == RELEASES["R2018"]
        names = {layer.dxf.name for layer in document.layers}
        assert {"AIR-MAIN", "WINDOWS", "P-CMPA-VALV"} <= names
        assert not names & {"P-CMPA-PIPE-MAIN", "G-ANNO-VPRT"}
        assert not [name for name in names if name.startswith("M-")]
    sheets = [layout for layout in files["plan.dxf"].layouts if layout.name != "Model"]
    assert all(layout.name.startswith("P-") for layout in sheets)
    assert {(layout.dxf.paper_width, layout.dxf.paper_height) for layout in sheets} == {(594.0, 420.0)}
    assert {layout.dxf.current_style_sheet for layout in files["plan.dxf"].layouts} == {"monochrome.ctb"}
    windows = [window for layout in sheets for window in layout.viewports()]
    assert {window.dxf.layer for window in windows} == {"WINDOWS"}


def test_the_site_file_chooses_and_the_command_line_goes_before_it(drawn: Drawn, tmp_path: Path) -> None:
    (tmp_path / "ours.yaml").write_text(LAYERS, encoding="utf-8")
    more = "\ndrawing: {dxf: {version: R2000, files: one, layers: ours.yaml, plot style: grey}}\n"
    files = drawn(more=more)
    assert set(files) == {"drawing.dxf", "model.dxf", "space.dxf"}
    assert files["drawing.dxf"].dxfversion == RELEASES["R2000"]
    assert files["drawing.dxf"].modelspace().dxf.current_style_sheet == "grayscale.ctb"
    assert "AIR-MAIN" in files["model.dxf"].layers
    assert drawn("--dxf-version", "R2013", more=more)["model.dxf"].dxfversion == RELEASES["R2013"]


def test_a_discipline_of_two_letters_needs_no_hyphen(drawn: Drawn) -> None:
    files = drawn("--discipline", "mp", "--dxf-files", "one")
    names = [layout.name for layout in files["drawing.dxf"].layouts if layout.name != "Model"]
    assert all(re.fullmatch(r"MP\d\d\d", name) for name in names)
    assert "MP-CMPA-PIPE-MAIN" in files["drawing.dxf"].layers


@pytest.mark.parametrize("wrong", ["", "\noutlets: 5"], ids=["a sound site", "a site with a mistake of its own"])
def test_a_missing_file_of_layers_is_told_with_the_mistakes_of_the_site(
    wrong: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before anything is worked out."""
    monkeypatch.setattr("drafter.pipeline.design_site", None)
    site = tmp_path / "site.yaml"
    text = SITE.read_text(encoding="utf-8") + wrong
    site.write_text(f"{text}\ndrawing: {{dxf: {{layers: none.yaml}}}}\n", encoding="utf-8")
    arguments = [] if not wrong else ["--layers", str(tmp_path / "none.yaml")]
    assert main(["draw", str(site), "--into", str(tmp_path), *arguments]) == 2
    said = capsys.readouterr().err
    assert "there is no file" in said
    assert "none.yaml" in said
    if wrong:
        assert "outlets" in said
    else:
        assert f"{site}:{text.count(chr(10)) + 2}:25:" in said
        assert "LAYER005" in said


def test_views_drawn_otherwise_before_do_not_stay_beside_the_new_ones(drawn: Drawn, tmp_path: Path) -> None:
    assert {"plan.dxf", "elevations.dxf"} <= set(drawn())
    assert set(drawn("--dxf-files", "each view")) >= {"plan.dxf", "reach.dxf", "elevation-shop-north.dxf"}
    (tmp_path / "site" / "my-own.dxf").write_bytes((tmp_path / "site" / "plan.dxf").read_bytes())
    assert set(drawn("--dxf-files", "one")) == {"drawing.dxf", "model.dxf", "space.dxf", "my-own.dxf"}


def test_layouts_name_no_table_of_pens_unless_asked_to(drawing: Drawing) -> None:
    made = dxf_makers(drawing, DxfChoice("R2010", "plan and elevations"))["plan.dxf"]()
    assert {layout.dxf.current_style_sheet for layout in ezdxf.read(StringIO(made.decode())).layouts} == {""}


@pytest.mark.parametrize(
    "arguments", [("--paper", "A9"), ("--discipline", "X"), ("--plot-style", "red"), ("--dxf-version", "R13")]
)
def test_words_that_are_none_of_the_choices_are_refused(
    arguments: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["draw", str(SITE), *arguments]) == 2
    assert f"'{arguments[1]}' is none of" in capsys.readouterr().err
