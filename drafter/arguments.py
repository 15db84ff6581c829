"""The arguments of the command line: commands, options, and what each says of itself."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from drafter import __version__

_STATUS = """exit status:
  0  fine
  1  the design has errors; nothing is drawn, unless --despite-errors asks for it
  2  the site file or another file could not be used"""
_LEAK_STATUS = """exit status:
  0  every test passes
  1  a test does not pass, or tells nothing
  2  the site file or a reading could not be used"""
_OPTIONS_STATUS = """exit status:
  0  fine
  1  none of the choices can be built
  2  the site file or another file could not be used"""


def arguments_parser() -> argparse.ArgumentParser:
    """Return what reads the arguments of the command line."""
    parser = argparse.ArgumentParser(
        prog="drafter",
        description="Checked, sized and dimensioned drawings for compressed-air piping in small workshops.",
        epilog="Begin with one of the files in example_sites.",
    )
    parser.add_argument("--version", action="version", version=f"drafter {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    check = commands.add_parser(
        "check",
        help="read, size and check a site; print results and findings",
        description="Read a site file, lay the piping out, size it, hold it against the rules and print a report.",
        epilog=_STATUS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    check.add_argument("site", metavar="SITE.yaml", type=Path, help="a site file")
    check.add_argument("--json", action="store_true", help="print the same facts as JSON (report/schema.json)")
    draw = commands.add_parser(
        "draw",
        help="check sites, then write drawings, sheets and lists",
        description="Check each site, then write drawings, sheets and lists into DIR/<name of the site file>/.\n"
        "A run that fails leaves what was there before as it was.",
        epilog=_STATUS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    draw.add_argument("sites", metavar="SITE.yaml", type=Path, nargs="+", help="site files")
    draw.add_argument(
        "--into", metavar="DIR", type=Path, default=Path("output"), help="folder to write into (default: ./output)"
    )
    _add_choices(draw)
    _options_parser(commands)
    _explain_parser(commands)
    _leak_parser(commands)
    return parser


def _add_choices(draw: argparse.ArgumentParser) -> None:
    """Choices of the drawings, which go before those of the site file."""
    draw.add_argument("--paper", metavar="SIZE", type=_one_of("PAPERS"), help="of the sheets, such as A3 or 11x17")
    draw.add_argument(
        "--discipline",
        metavar="LETTERS",
        type=_one_of("DISCIPLINES"),
        help="before sheet numbers and layers, such as M or MP",
    )
    draw.add_argument(
        "--dxf-version",
        metavar="RELEASE",
        type=_one_of("DXF_VERSIONS"),
        help="of the DXF files, R2000 to R2018, or R12 for flat ones",
    )
    draw.add_argument(
        "--dxf-files",
        metavar="WHICH",
        type=_one_of("DXF_FILES"),
        help="'plan and elevations', 'one' file, or 'each view' its own, a model file for sheets of others",
    )
    draw.add_argument(
        "--despite-errors",
        action="store_true",
        help="draw a design with errors too, every sheet and file stamped NOT FOR CONSTRUCTION",
    )
    draw.add_argument("--layers", metavar="FILE.yaml", type=Path, help="a file that renames layers of the DXF files")
    draw.add_argument(
        "--plot-style",
        metavar="INK",
        type=_one_of("PLOT_STYLES"),
        help="of the DXF files: 'black' or 'grey' prints all layers so, 'none' in their colours",
    )


def _one_of(words: str) -> Callable[[str], str]:
    """Return what reads one of the words that the site's model has under a name."""

    def read(written: str) -> str:
        from drafter.site import model

        return _word(written, getattr(model, words))

    return read


def _word(written: str, words: Sequence[str]) -> str:
    from drafter.reader import letters

    word = next((word for word in words if letters(word) == letters(written)), None)
    if word is None:
        raise argparse.ArgumentTypeError(f"'{written}' is none of {', '.join(words)}")
    return word


def _options_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    options = commands.add_parser(
        "options",
        help="draw the same job with other choices, compare them, and say which to take",
        description="Work a site out with other materials, as a ring and as a dead end, and at other levels of the "
        "main;\nwrite options.pdf and options.json into DIR/<name of the site file>/, and print the comparison.",
        epilog=_OPTIONS_STATUS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("site", metavar="SITE.yaml", type=Path, help="a site file")
    options.add_argument(
        "--into", metavar="DIR", type=Path, default=Path("output"), help="folder to write into (default: ./output)"
    )
    options.add_argument("--json", action="store_true", help="print the same facts as JSON (options/schema.json)")


def _explain_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    explain = commands.add_parser(
        "explain",
        help="say what a rule or finding means, or list them all",
        description="Print the page of a rule or finding: why it is there, what passes, what fails, its threshold,\n"
        "how bad it is and where it comes from. Without RULE list them all.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    explain.add_argument("rule", metavar="RULE", nargs="?", help="an id as findings show it, such as FLOW001")


def _leak_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    leak = commands.add_parser(
        "leak-test",
        help="say what a leak test means: how much leaks, whether it passes, what it costs",
        description="Work out the readings of a leak test, those of the site file and the one given here; write\n"
        "leak-test.pdf into DIR/<name of the site file>/, and print the same. Pressures are gauge, with units.\n"
        "Either a fall of pressure: --from 8.5bar --to 8.45bar --for 30min, better with\n"
        "--air-at-start and --air-at-end;\n"
        "or the compressor's times with nothing in use: --loaded 2min --unloaded 20min.",
        epilog=_LEAK_STATUS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    leak.add_argument("site", metavar="SITE.yaml", type=Path, help="a site file")
    for option, name, shown, text in (
        ("--from", "start_pa", "VALUE", "gauge pressure at the start"),
        ("--to", "end_pa", "VALUE", "gauge pressure at the end"),
        ("--for", "time_s", "VALUE", "time from start to end"),
        ("--air-at-start", "start_k", "VALUE", "temperature of the air in the pipes"),
        ("--air-at-end", "end_k", "VALUE", "temperature of the air in the pipes"),
        ("--loaded", "loaded_s", "VALUE", "time the compressor delivers with nothing in use"),
        ("--unloaded", "unloaded_s", "VALUE", "time until it delivers again"),
        ("--before", "before", "TAG", "of the regulator that the part under test ends at, where not all was"),
        ("--date", "date", "DATE", "of the test, such as 2026-03-02"),
        ("--by", "by", "NAME", "who tested"),
    ):
        leak.add_argument(option, dest=name, metavar=shown, type=_as_in_site_file(name), help=text)
    leak.add_argument("--with-tank", action="store_true", help="the tank was under test with the piping")
    leak.add_argument(
        "--into", metavar="DIR", type=Path, default=Path("output"), help="folder to write into (default: ./output)"
    )


def _as_in_site_file(name: str) -> Callable[[str], Any]:
    """What reads an argument by the form that the site file has for the same value of a leak test."""

    def read(written: str) -> Any:
        import yaml

        from drafter.finding import Severity
        from drafter.reader.entry import Reading
        from drafter.site.model.care import LeakReading

        mark, reading = yaml.Mark("", 0, 0, 0, None, 0), Reading("")
        form = LeakReading.__dataclass_fields__[name].metadata["form"]
        value = form.read(yaml.ScalarNode("", written, mark, mark), reading)
        for finding in reading.findings:
            if finding.severity is Severity.ERROR:
                raise argparse.ArgumentTypeError(f"{finding.message}; {finding.fix}")
        return value

    return read


def minus_joined(arguments: Sequence[str]) -> list[str]:
    """Return the arguments with each number below zero joined to the option before it, as in ``--to=-1bar``."""
    joined: list[str] = []
    for argument in arguments:
        if re.match(r"[-−]\.?\d", argument) and joined and re.fullmatch(r"--[a-z-]+", joined[-1]):
            joined[-1] += f"={argument}"
        else:
            joined.append(argument)
    return joined
