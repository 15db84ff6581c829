"""The command line: exit status, what is written where, and that nothing is ever half written."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import ezdxf
import jsonschema
import pypdf
import pytest

import drafter
from drafter.cli import main

SITE = (Path(__file__).parent / "data" / "keeps_every_rule.yaml").read_text(encoding="utf-8")
WEAK = SITE.replace("copper tube", "polyamide tube, size: 28 x 2.5").replace("warmest: 30", "warmest: 45")
UNREADABLE = SITE.replace("8 l/s", "8 litres")
SET = {
    "plan.dxf",
    "elevations.dxf",
    "model.dxf",
    "space.dxf",
    "sheets.pdf",
    "labels.pdf",
    "plan.svg",
    "reach.svg",
    "elevation-shop-north.svg",
    "elevation-shop-east.svg",
    "elevation-shop-south.svg",
    "isometric.svg",
    "parts.csv",
    "cutting.csv",
    "mark-out.csv",
    "tools.csv",
    "report.txt",
}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    file = tmp_path / "yard.yaml"
    file.write_text(SITE, encoding="utf-8")
    return file


@pytest.fixture
def old_set(tmp_path: Path) -> Path:
    """A folder of an earlier run."""
    folder = tmp_path / "out" / "yard"
    folder.mkdir(parents=True)
    (folder / "plan.dxf").write_text("earlier", encoding="utf-8")
    return folder


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def drafter_process(*arguments: str | Path, **more: object) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "drafter", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, check=False, timeout=120, **more)  # type: ignore[call-overload,no-any-return]


def test_check_prints_the_report(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(site)]) == 0
    out, err = capsys.readouterr()
    assert out.splitlines()[-1].startswith("It can be built as described")
    assert err == ""


@pytest.mark.parametrize("text, status", [(SITE, 0), (WEAK, 1), (UNREADABLE, 2), ("", 2), ("\ufffe", 2)])
def test_exit_status_of_check(tmp_path: Path, text: str, status: int, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(text, encoding="utf-8")
    assert main(["check", str(file)]) == status
    out = capsys.readouterr().out
    assert (f"{file}" in out) == (status > 0)


@pytest.mark.parametrize("text", [SITE, WEAK, UNREADABLE])
def test_check_json_keeps_to_the_schema(tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(text, encoding="utf-8")
    main(["check", "--json", str(file)])
    schema = json.loads((Path(drafter.__file__).parent / "report" / "schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads(capsys.readouterr().out), schema)


def test_draw_writes_the_whole_set(site: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", str(site), "--into", str(tmp_path / "new" / "out")]) == 0
    folder = tmp_path / "new" / "out" / "yard"
    assert names(folder) == SET
    assert names(folder.parent) == {"yard"}
    assert (folder / "sheets.pdf").read_bytes().startswith(b"%PDF-")
    assert b"SECTION" in (folder / "plan.dxf").read_bytes()[:200]
    assert b"<svg" in (folder / "plan.svg").read_bytes()[:200]
    assert "It can be built as described" in (folder / "report.txt").read_text(encoding="utf-8")
    for name in ("parts.csv", "cutting.csv", "mark-out.csv"):
        with (folder / name).open(encoding="utf-8", newline="") as opened:
            table = list(csv.reader(opened))
        assert len(table) > 2
        assert {len(row) for row in table} == {len(table[0])}
    out, err = capsys.readouterr()
    assert str(folder) in out
    assert "\x1b" not in out + err


def test_draw_into_output_where_no_folder_is_named(site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["draw", site.name]) == 0
    assert names(tmp_path / "output" / "yard") == SET


def test_drawing_again_replaces_the_set_and_keeps_what_else_lies_there(site: Path, old_set: Path) -> None:
    (old_set / "photos").mkdir()
    (old_set / "photos" / "wall.txt").write_text("mine", encoding="utf-8")
    assert main(["draw", str(site), "--into", str(old_set.parent)]) == 0
    assert names(old_set) == SET | {"photos"}
    assert (old_set / "photos" / "wall.txt").read_text(encoding="utf-8") == "mine"
    assert (old_set / "plan.dxf").read_text(encoding="utf-8") != "earlier"
    assert names(old_set.parent) == {"yard"}


def test_drawing_twice_gives_the_same_bytes(site: Path, tmp_path: Path) -> None:
    for name in ("one", "two"):
        assert main(["draw", str(site), "--into", str(tmp_path / name)]) == 0
    for name in SET:
        assert (tmp_path / "one" / "yard" / name).read_bytes() == (tmp_path / "two" / "yard" / name).read_bytes()


@pytest.mark.parametrize("text, status", [(WEAK, 1), (UNREADABLE, 2)])
def test_with_errors_nothing_is_drawn(
    site: Path, old_set: Path, text: str, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    site.write_text(text, encoding="utf-8")
    assert main(["draw", str(site), "--into", str(old_set.parent)]) == status
    assert names(old_set) == {"plan.dxf"}
    out, err = capsys.readouterr()
    assert out == ""
    assert ": error " in err
    assert err.startswith("1. ")
    assert "nothing drawn" in err


@pytest.mark.parametrize(
    "failure, status, said",
    [(OSError(28, "No space left on device"), 2, "No space left on device"), (KeyboardInterrupt(), 130, "stopped")],
)
def test_a_run_that_fails_while_writing_leaves_the_old_set(
    site: Path,
    old_set: Path,
    failure: BaseException,
    status: int,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    write_bytes: Callable[[Path, bytes], int] = Path.write_bytes

    def fail(path: Path, content: bytes) -> int:
        if path.name == "sheets.pdf":
            raise failure
        return write_bytes(path, content)

    monkeypatch.setattr(Path, "write_bytes", fail)
    assert main(["draw", str(site), "--into", str(old_set.parent)]) == status
    assert names(old_set) == {"plan.dxf"}
    assert (old_set / "plan.dxf").read_text(encoding="utf-8") == "earlier"
    assert names(old_set.parent) == {"yard"}
    assert said in capsys.readouterr().err


def test_a_run_that_fails_while_swapping_leaves_the_old_set(
    site: Path, old_set: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rename = Path.rename

    def fail(path: Path, to: Path) -> Path:
        if path.name.endswith("-new"):
            raise PermissionError(13, "Permission denied")
        return rename(path, to)

    monkeypatch.setattr(Path, "rename", fail)
    assert main(["draw", str(site), "--into", str(old_set.parent)]) == 2
    assert (old_set / "plan.dxf").read_text(encoding="utf-8") == "earlier"
    assert names(old_set.parent) == {"yard"}


def test_several_sites_in_one_call_each_go_their_own_way(site: Path, tmp_path: Path) -> None:
    weak = tmp_path / "weak.yaml"
    weak.write_text(WEAK, encoding="utf-8")
    other = tmp_path / "other.yaml"
    other.write_text(SITE, encoding="utf-8")
    assert main(["draw", str(site), str(weak), str(other), "--into", str(tmp_path / "out")]) == 1
    assert names(tmp_path / "out") == {"yard", "other"}


def test_two_sites_for_one_folder_are_refused(site: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    twin = tmp_path / "branch" / "yard.yaml"
    twin.parent.mkdir()
    twin.write_text(SITE, encoding="utf-8")
    assert main(["draw", str(site), str(twin), "--into", str(tmp_path / "out")]) == 2
    assert "rename one of them" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("command", ["check", "draw"])
@pytest.mark.parametrize(
    "name, said",
    [("absent.yaml", "there is no file"), (".", "is a folder"), ("x" * 300 + ".yaml", "cannot read"), ("a\0b", "")],
)
def test_a_file_that_cannot_be_read(
    tmp_path: Path, command: str, name: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    into = ["--into", str(tmp_path / "out")] if command == "draw" else []
    assert main([command, str(tmp_path / name), *into]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("drafter: ")
    assert said in err or "cannot write" in err
    assert "Traceback" not in err


@pytest.mark.parametrize("taken", ["out", "out/yard"])
def test_a_file_where_the_folder_should_be(
    site: Path, tmp_path: Path, taken: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / taken).parent.mkdir(exist_ok=True)
    (tmp_path / taken).write_text("mine", encoding="utf-8")
    assert main(["draw", str(site), "--into", str(tmp_path / "out")]) == 2
    assert "is a file, not a folder" in capsys.readouterr().err
    assert (tmp_path / taken).read_text(encoding="utf-8") == "mine"


def test_a_folder_below_a_file(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", str(site), "--into", str(site / "out")]) == 2
    assert "cannot write" in capsys.readouterr().err
    assert site.read_text(encoding="utf-8") == SITE


def test_a_linked_folder_stays_a_link(site: Path, old_set: Path, tmp_path: Path) -> None:
    link = tmp_path / "linked" / "yard"
    link.parent.mkdir()
    link.symlink_to(old_set, target_is_directory=True)
    assert main(["draw", str(site), "--into", str(link.parent)]) == 0
    assert link.is_symlink()
    assert names(old_set) == SET


OPTIONS = {"options.pdf", "options.json"}
NO_ROOM = SITE.replace("ceiling: 3 m", "ceiling: 1.9 m").replace("height: 2.6 m", "height: 1.8 m")


def test_options_are_written_and_told(site: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", str(site), "--into", str(tmp_path / "out")]) == 0
    folder = tmp_path / "out" / "yard"
    assert names(folder) == OPTIONS
    assert (folder / "options.pdf").read_bytes().startswith(b"%PDF-")
    out, err = capsys.readouterr()
    assert json.loads((folder / "options.json").read_text(encoding="utf-8"))["because"] in out
    assert "TAKE THIS" in out
    assert err == ""


def test_options_json_keeps_to_the_schema(site: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", "--json", str(site), "--into", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    schema = json.loads((Path(drafter.__file__).parent / "options" / "schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads(out), schema)
    assert out == (tmp_path / "yard" / "options.json").read_text(encoding="utf-8")


def test_options_stand_beside_a_set(site: Path, old_set: Path) -> None:
    assert main(["options", str(site), "--into", str(old_set.parent)]) == 0
    assert names(old_set) == OPTIONS | {"plan.dxf"}
    assert main(["draw", str(site), "--into", str(old_set.parent)]) == 0
    assert names(old_set) == OPTIONS | SET


@pytest.mark.parametrize("text, status", [(NO_ROOM, 1), (UNREADABLE, 2), ("", 2)])
def test_exit_status_of_options(tmp_path: Path, text: str, status: int, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "yard.yaml"
    file.write_text(text, encoding="utf-8")
    assert main(["options", str(file), "--into", str(tmp_path / "out")]) == status
    assert (tmp_path / "out").exists() == (status == 1)
    out, err = capsys.readouterr()
    assert "None of these can be built" in out if status == 1 else f"{file}:" in err


def test_options_of_no_file_and_into_a_file(site: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", str(tmp_path / "none.yaml"), "--into", str(tmp_path)]) == 2
    assert main(["options", str(site), "--into", str(site)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "there is no file" in err
    assert "cannot write" in err


@pytest.mark.parametrize(
    "arguments, status",
    [
        ([], 2),
        (["options"], 2),
        (["options", "--help"], 0),
        (["--version"], 0),
        (["--help"], 0),
        (["draw", "--help"], 0),
        (["sketch"], 2),
    ],
)
def test_usage(arguments: list[str], status: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == status
    out, err = capsys.readouterr()
    assert "drafter" in (err if status else out)


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--version"])
    assert capsys.readouterr().out == f"drafter {drafter.__version__}\n"


def test_help_loads_no_library() -> None:
    heavy = ("numpy", "shapely", "ezdxf", "reportlab", "yaml", "pint", "fontTools")
    code = (
        "import sys; from drafter.cli import main; status = main(['--help'])\n"
        f"found = [name for name in {heavy!r} if name in sys.modules]\n"
        "print(found, file=sys.stderr); sys.exit(status)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False, timeout=60)
    assert (ran.returncode, ran.stderr.strip()) == (0, b"[]")


def test_check_loads_no_drawing_library(site: Path) -> None:
    code = (
        f"import sys; from drafter.cli import main; status = main(['check', {str(site)!r}])\n"
        "print([name for name in ('ezdxf', 'reportlab') if name in sys.modules], file=sys.stderr); sys.exit(status)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False, timeout=60)
    assert (ran.returncode, ran.stderr.strip()) == (0, b"[]")


def test_as_a_module(site: Path) -> None:
    ran = drafter_process("check", site)
    assert ran.returncode == 0
    assert b"It can be built" in ran.stdout


def test_a_terminal_that_knows_ascii_only(site: Path) -> None:
    site.write_text(SITE.replace("Rule Yard", "Yard of Zoë 工房"), encoding="utf-8")
    ran = drafter_process("check", site, env=os.environ | {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert b"Yard of Zo? ??" in ran.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="pipes of another kind")
def test_a_reader_that_stops_reading(site: Path) -> None:
    command = [sys.executable, "-m", "drafter", "check", "--json", str(site)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""
    assert running.returncode == 141


def test_progress_is_shown_on_a_terminal_only(
    site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(["draw", str(site), "--into", str(tmp_path / "out")]) == 0
    out, err = capsys.readouterr()
    assert "sheets.pdf" in err
    assert "\x1b" not in out


def test_a_design_with_errors_is_drawn_when_asked_and_stamped_everywhere(tmp_path: Path, site: Path) -> None:
    site.write_text(WEAK, encoding="utf-8")
    assert main(["draw", str(site), "--into", str(tmp_path / "out")]) == 1
    assert not (tmp_path / "out").exists()
    assert main(["draw", str(site), "--into", str(tmp_path / "out"), "--despite-errors"]) == 1
    folder = tmp_path / "out" / "yard"
    assert names(folder) == SET
    stamp = b"NOT FOR CONSTRUCTION - 2 ERRORS"
    for name in SET - {"report.txt", "sheets.pdf", "labels.pdf"}:
        assert stamp in (folder / name).read_bytes(), name
    for name in ("plan.dxf", "elevations.dxf", "model.dxf"):
        model = ezdxf.readfile(folder / name).modelspace()
        titles = [entity.dxf.text for entity in model.query("TEXT") if stamp.decode() in entity.dxf.text]
        assert len(titles) == (6 if name == "model.dxf" else 3), name
    pages = [page for name in ("sheets.pdf", "labels.pdf") for page in pypdf.PdfReader(folder / name).pages]
    assert all(stamp.decode() in page.extract_text() for page in pages)
    assert "cannot be built" in (folder / "report.txt").read_text(encoding="utf-8")


def test_flat_files_and_one_file_are_stamped_too(tmp_path: Path, site: Path) -> None:
    site.write_text(WEAK, encoding="utf-8")
    for more in (["--dxf-version", "R12"], ["--dxf-files", "one"], ["--dxf-files", "each view"]):
        assert main(["draw", str(site), "--into", str(tmp_path / "out"), "--despite-errors", *more]) == 1
        written = list((tmp_path / "out" / "yard").glob("*.dxf"))
        assert all(b"NOT FOR CONSTRUCTION - 2 ERRORS" in path.read_bytes() for path in written)
        for path in written:
            path.unlink()


def test_what_cannot_be_laid_out_is_not_drawn_even_then(
    tmp_path: Path, site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    site.write_text(SITE.replace("height: 2.6 m", "height: 1.6 m"), encoding="utf-8")
    assert main(["draw", str(site), "--into", str(tmp_path / "out"), "--despite-errors"]) == 1
    assert not (tmp_path / "out").exists()
    assert "nothing drawn" in capsys.readouterr().err


def test_a_design_without_errors_bears_no_stamp(tmp_path: Path, site: Path) -> None:
    assert main(["draw", str(site), "--into", str(tmp_path / "out"), "--despite-errors"]) == 0
    for path in (tmp_path / "out" / "yard").iterdir():
        assert b"NOT FOR CONSTRUCTION" not in path.read_bytes()
