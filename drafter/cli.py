"""The command line: arguments, reading and writing files, exit status. The only module that prints."""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from drafter.arguments import arguments_parser, minus_joined

if TYPE_CHECKING:
    from drafter.files import DxfChoice
    from drafter.pipeline import Designed
    from drafter.site import Site

FINE, DESIGN_ERRORS, UNUSABLE = 0, 1, 2
INTERRUPTED, BROKEN_PIPE = 130, 141
"""As shells count a program ended by signal 2 or 13."""

MOST_BYTES = 2_000_000
LONGEST_ID = 40


class FileError(Exception):
    """A file or folder that cannot be used; the message says which and why."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if reconfigure := getattr(stream, "reconfigure", None):
            reconfigure(errors="replace")
    try:
        status = _run(arguments)
        sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        _say("\ndrafter: stopped")
        return INTERRUPTED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return BROKEN_PIPE


def _run(arguments: Sequence[str] | None) -> int:
    parser = arguments_parser()
    try:
        chosen = parser.parse_args(minus_joined(sys.argv[1:] if arguments is None else arguments))
    except SystemExit as stop:
        return int(stop.code or FINE)
    if chosen.command == "check":
        return _check(chosen.site, chosen.json)
    if chosen.command == "options":
        return _options(chosen.site, chosen.into, chosen.json)
    if chosen.command == "explain":
        return _explain(chosen.rule)
    if chosen.command == "leak-test":
        return _leak_test(chosen)
    if chosen.command == "draw":
        return _draw(chosen)
    parser.print_help(sys.stderr)
    return UNUSABLE


def _say(text: str, stream: TextIO | None = None) -> None:
    print(text, file=stream or sys.stderr)


def _check(file: Path, as_json: bool) -> int:
    from drafter.pipeline import design
    from drafter.report import report_text, to_json

    try:
        data = _read(file)
    except FileError as trouble:
        _say(f"drafter: {trouble}")
        return UNUSABLE
    designed = design(data, str(file))
    if as_json:
        facts = to_json(designed.findings, designed.design, designed.takeoff)
        _say(json.dumps(facts, indent=2, allow_nan=False), sys.stdout)
    else:
        sys.stdout.write(report_text(designed.findings, data, designed.design, designed.takeoff))
    return _status(designed)


def _status(designed: Designed) -> int:
    from drafter.finding import errors

    if designed.site is None:
        return UNUSABLE
    return DESIGN_ERRORS if errors(designed.findings) else FINE


def _explain(rule: str | None) -> int:
    from drafter.report.manual import manual_list, manual_page, nearest_id

    if rule is None:
        _say(manual_list(), sys.stdout)
        return FINE
    page = manual_page(rule)
    if page is None:
        near = nearest_id(rule)
        hint = f"did you mean {near}?" if near else "'drafter explain' lists them all"
        _say(f"drafter: no rule or finding is called {rule[:LONGEST_ID]!r}; {hint}")
        return UNUSABLE
    _say(page, sys.stdout)
    return FINE


def _leak_test(asked: argparse.Namespace) -> int:
    from drafter.backends.pdf import to_pdf
    from drafter.leak_testing import leak_test_of
    from drafter.report import findings_text
    from drafter.report.leak_result import leak_result_text
    from drafter.sheets.leak_result import leak_drawing
    from drafter.sizing.leak_result import Verdict

    target = asked.into / asked.site.stem
    try:
        _refuse_file(target)
        data = _read(asked.site)
        test = leak_test_of(data, str(asked.site), asked)
        if test.findings:
            _say(findings_text(test.findings, data))
        if test.network is None:
            return UNUSABLE
        _replace_folder(target, {"leak-test.pdf": to_pdf(leak_drawing(test.network, test.results, test.errors))})
        sys.stdout.write(leak_result_text(test.network, test.results, test.errors))
        return FINE if all(result.verdict is Verdict.TIGHT for result in test.results) else DESIGN_ERRORS
    except FileError as trouble:
        _say(f"drafter: {trouble}")
        return UNUSABLE


def _options(file: Path, into: Path, as_json: bool) -> int:
    from drafter.backends.pdf import to_pdf
    from drafter.options import compare, options_drawing, options_json, options_text
    from drafter.report import findings_text

    target = into / file.stem
    try:
        _refuse_file(target)
        data = _read(file)
        _progress(f"{file}: drawing up the choices")
        comparison = compare(data, str(file))
        _progress("")
        facts = json.dumps(options_json(comparison), indent=2, allow_nan=False)
        if comparison.site is None:
            _say(findings_text(comparison.findings, data))
        else:
            sheets = to_pdf(options_drawing(comparison))
            _replace_folder(target, {"options.pdf": sheets, "options.json": f"{facts}\n".encode()})
        if as_json:
            _say(facts, sys.stdout)
        elif comparison.site is not None:
            sys.stdout.write(options_text(comparison))
        if comparison.choice is None:
            return UNUSABLE
        return FINE if comparison.choice.taken else DESIGN_ERRORS
    except FileError as trouble:
        _progress("")
        _say(f"drafter: {trouble}")
        return UNUSABLE


def _draw(asked: argparse.Namespace) -> int:
    targets: dict[Path, Path] = {}
    for file in asked.sites:
        target = asked.into / file.stem
        if target in targets:
            _say(f"drafter: {targets[target]} and {file} would both be drawn into {target}; rename one of them")
            return UNUSABLE
        targets[target] = file
    return max(_draw_site(file, target, asked) for target, file in targets.items())


def _draw_site(file: Path, target: Path, asked: argparse.Namespace) -> int:
    from drafter.files import of_other_choices
    from drafter.pipeline import design_site, read_site
    from drafter.report import findings_text, grouped_text, verdict

    try:
        _refuse_file(target)
        data = _read(file)
        site, findings = read_site(data, str(file), asked.paper or "", asked.discipline or "")
        dxf = _dxf_choice(site, file, data, asked)
        if dxf is None:
            if findings:
                _say(findings_text(findings, data))
            _say(f"{file}: nothing drawn. The file of layers cannot be used.")
            return UNUSABLE
        _progress(f"{file}: laying out and sizing")
        designed = design_site(site, findings)
        _progress("")
        if designed.findings:
            _say(f"{grouped_text(designed.findings, data)}\n")
        status = _status(designed)
        if status == FINE or (asked.despite_errors and designed.takeoff is not None):
            contents = _drawn(designed, data, dxf, lambda doing: _progress(f"{file}: {doing}"))
            _replace_folder(target, contents, of_other_choices)
            how = "drawn" if status == FINE else "drawn despite errors, every sheet stamped NOT FOR CONSTRUCTION"
            _say(f"{target}: {how}. {verdict(designed.findings, designed.design)}", sys.stdout)
        else:
            _say(f"{file}: nothing drawn. {verdict(designed.findings, designed.design)}{_ask_for(designed)}")
        return status
    except FileError as trouble:
        _progress("")
        _say(f"drafter: {trouble}")
        return UNUSABLE


def _ask_for(designed: Designed) -> str:
    return " To see it all the same: --despite-errors" if designed.takeoff is not None else ""


def _drawn(designed: Designed, data: bytes, dxf: DxfChoice, progress: Callable[[str], None]) -> dict[str, bytes]:
    """Return the content of each file of a set by its name."""
    from drafter.files import file_makers

    progress("composing the sheets")
    contents = {}
    for name, make in file_makers(designed, data, dxf).items():
        progress(name)
        contents[name] = make()
    progress("")
    return contents


def _dxf_choice(site: Site | None, file: Path, data: bytes, asked: argparse.Namespace) -> DxfChoice | None:
    """How drawings for CAD are written, by the command line or else the site file; None after what is wrong is said."""
    from drafter.drawing import PLAIN
    from drafter.files import DxfChoice
    from drafter.finding import Finding, Severity
    from drafter.report import findings_text
    from drafter.sheets.layer_scheme import read_scheme
    from drafter.site.model import DxfData

    said = site.drawing.dxf if site else DxfData()
    layers = asked.layers or (file.parent / said.layers if said.layers else None)
    scheme = PLAIN
    if layers is not None:
        try:
            text = _read(layers)
        except FileError as trouble:
            if asked.layers:
                _say(f"drafter: {trouble}")
            else:
                place, fix = said.where("layers"), "write the name of a file beside this one, or leave it out"
                _say(findings_text((Finding("LAYER005", Severity.ERROR, place, str(trouble), fix=fix),), data))
            return None
        read, findings = read_scheme(text, str(layers), site.drawing.discipline) if site else (PLAIN, ())
        if findings:
            _say(findings_text(findings, text))
        if read is None:
            return None
        scheme = read
    version, files = asked.dxf_version or said.version, asked.dxf_files or said.files
    return DxfChoice(version, files, scheme, asked.plot_style or said.plot_style)


def _progress(doing: str) -> None:
    """Show on a terminal what is going on, in one line that the next one replaces; nothing clears it."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{doing}")
        sys.stderr.flush()


def _read(file: Path) -> bytes:
    try:
        if file.is_dir():
            raise FileError(f"{file} is a folder; name the file in it")
        with file.open("rb") as opened:
            return opened.read(MOST_BYTES)
    except FileNotFoundError:
        raise FileError(f"there is no file {file}") from None
    except (OSError, ValueError) as error:
        raise FileError(f"cannot read {file}: {_reason(error)}") from None


def _refuse_file(target: Path) -> None:
    """Raise where a file stands in the place of a folder that is to be written into."""
    try:
        nearest = next(folder for folder in (target, *target.parents) if folder.exists())
        usable = nearest.is_dir()
    except OSError as error:
        raise FileError(f"cannot write into {target}: {_reason(error)}") from None
    if not usable:
        raise FileError(f"cannot write into {target}: {nearest} is a file, not a folder")


def _reason(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _replace_folder(
    target: Path, contents: dict[str, bytes], is_outdated: Callable[[str], bool] = lambda _name: False
) -> None:
    """Put a folder of new files in the place of the old one; other files that stood there stay, unless outdated."""
    target = target.resolve()
    new, old = (target.with_name(f".{target.name}-{os.getpid()}-{word}") for word in ("new", "old"))
    try:
        new.mkdir(parents=True)
        for name, content in contents.items():
            (new / name).write_bytes(content)
        if target.exists():
            target.rename(old)
        new.rename(target)
    except OSError as error:
        raise FileError(f"cannot write into {target}: {_reason(error)}; it is as it was before") from None
    finally:
        if old.exists() and not target.exists():
            old.rename(target)
        shutil.rmtree(new, ignore_errors=True)
    if old.exists():
        for entry in old.iterdir():
            if entry.name not in contents and not is_outdated(entry.name):
                entry.rename(target / entry.name)
        shutil.rmtree(old)
