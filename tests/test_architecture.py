"""The house keeps its plan: import contracts, types, style, module sizes, what stands at the top level."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
BIN = Path(sys.executable).parent
ALLOWED = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "drafter", "symbols", "tests", "example_sites", "output",
}  # fmt: skip


def run(*command: str) -> subprocess.CompletedProcess[str]:
    program = shutil.which(command[0], path=str(BIN)) or command[0]
    return subprocess.run([program, *command[1:]], cwd=TOP, capture_output=True, text=True, check=False)


def tracked() -> list[Path]:
    listed = run("git", "ls-files", "--cached", "--others", "--exclude-standard")
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    return [TOP / name for name in listed.stdout.splitlines() if (TOP / name).is_file()]


def test_imports_run_one_way() -> None:
    done = run("lint-imports", "--no-cache")
    assert done.returncode == 0, done.stdout


def test_types_are_strict() -> None:
    done = run("mypy", "--no-incremental")
    assert done.returncode == 0, done.stdout


def test_style_is_clean() -> None:
    done = run("ruff", "check", "--no-cache", ".")
    assert done.returncode == 0, done.stdout
    done = run("ruff", "format", "--check", "--no-cache", ".")
    assert done.returncode == 0, done.stdout


def test_modules_are_small() -> None:
    long = {
        str(path.relative_to(TOP)): lines
        for path in (TOP / "drafter").rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 350
    }
    assert long == {}


def test_the_top_level_holds_only_what_is_agreed() -> None:
    names = {path.relative_to(TOP).parts[0] for path in tracked()}
    assert {name for name in names if not name.startswith(".")} <= ALLOWED


def test_no_file_names_a_place_on_one_machine() -> None:
    pattern = re.compile(r"(?<![A-Za-z0-9_.])/(work|root|home|Users)/[A-Za-z0-9_.]")
    found = []
    for path in tracked():
        if path.suffix in {".py", ".md", ".toml", ".yaml", ".txt", ".csv", ".svg", ".dxf", ".json"}:
            text = path.read_text(encoding="utf-8", errors="replace")
            found += [str(path)] if pattern.search(text) and path != Path(__file__) else []
    assert found == []


def test_ci_runs_the_test_command_of_the_readme() -> None:
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"<!-- (?:main job|test) command -->\n```\n(.*)\n```", readme)
    assert len(commands) == 2
    assert commands[0].endswith("drafter draw example_sites/bicycle_coop.yaml")
    assert commands[1].endswith(".venv/bin/pytest")
    assert "<!-- test command -->" in (TOP / ".ci" / "run").read_text(encoding="utf-8")
