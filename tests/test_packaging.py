"""A wheel and an editable install both find symbols and data, and draw from another folder."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
FILES = {
    "plan.dxf", "elevations.dxf", "model.dxf", "space.dxf", "sheets.pdf", "labels.pdf", "parts.csv", "cutting.csv",
    "mark-out.csv", "tools.csv", "report.txt", "plan.svg", "reach.svg", "isometric.svg",
}  # fmt: skip

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(TOP)], check=True, capture_output=True
    )
    return next(folder.glob("*.whl"))


def fresh_environment(folder: Path) -> Path:
    """A new environment that sees the libraries of this one, but not this one's drafter; return its python."""
    venv.create(folder, with_pip=True, symlinks=True)
    python = folder / "bin" / "python"
    site = subprocess.run(
        [python, "-c", "import sysconfig; print(sysconfig.get_paths()['purelib'])"],
        check=True, capture_output=True, text=True,
    ).stdout.strip()  # fmt: skip
    (Path(site) / "libraries.pth").write_text(sysconfig.get_paths()["purelib"] + "\n", encoding="utf-8")
    return python


def draws(python: Path, elsewhere: Path) -> None:
    elsewhere.mkdir()
    site = TOP / "example_sites" / "bicycle_coop.yaml"
    (elsewhere / "site.yaml").write_bytes(site.read_bytes())
    done = subprocess.run(
        [python.parent / "drafter", "draw", "site.yaml"], cwd=elsewhere, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    names = {path.name for path in (elsewhere / "output" / "site").iterdir()}
    assert {name for name in names if not name.startswith("elevation-")} == FILES


def test_the_wheel_holds_symbols_and_data(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("symbols", "drafter"):
        for path in (TOP / folder).rglob("*"):
            if path.suffix in {".yaml", ".json"}:
                inside = path.relative_to(TOP)
                assert str(inside if folder == "drafter" else Path("drafter") / inside) in names


def test_the_installed_wheel_draws_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    python = fresh_environment(tmp_path / "env")
    command = [python, "-m", "pip", "install", "--no-deps", "--force-reinstall", str(wheel)]
    subprocess.run(command, check=True, capture_output=True)
    where = subprocess.run(
        [python, "-c", "import drafter; print(drafter.__file__)"],
        check=True,
        capture_output=True,
        text=True,
        cwd=tmp_path,
    )
    assert where.stdout.startswith(str(tmp_path / "env"))
    draws(python, tmp_path / "elsewhere")


def test_an_editable_install_draws_from_another_folder(tmp_path: Path) -> None:
    python = fresh_environment(tmp_path / "env")
    command = [python, "-m", "pip", "install", "--no-deps", "--force-reinstall", "-e", str(TOP)]
    subprocess.run(command, check=True, capture_output=True)
    draws(python, tmp_path / "elsewhere")
