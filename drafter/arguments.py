"""What may stand on the command line: the commands, their arguments, what help says of them."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path

from drafter import __version__

_STATUS = """exit status:
  0  fine
  1  the design has errors; nothing is drawn
  2  the site file or another file could not be used"""
_OPTIONS_STATUS = """exit status:
  0  fine
  1  none of the choices can be built
  2  the site file or another file could not be used"""


def command_line() -> argparse.ArgumentParser:
    """Return what reads the command line."""
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
    return parser


def _add_choices(draw: argparse.ArgumentParser) -> None:
    """Choices of the drawings, which go before those of the site file."""
    draw.add_argument("--paper", metavar="SIZE", type=_one_of("PAPERS"), help="of the sheets, such as A3 or 11x17")
    draw.add_argument(
        "--discipline", metavar="LETTER", type=_one_of("DISCIPLINES"), help="M or P, before sheet numbers and layers"
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
        help="'plan and elevations', 'one' file, or 'each view' its own",
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
    word = next((word for word in words if word.lower() == written.lower()), None)
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
