"""The command line. Each command is a small module; errors are one sentence and never a trace."""

from __future__ import annotations

import argparse
import os
import sys
from importlib import import_module
from pathlib import Path

from server import __version__
from server.errors import MudproofError
from server.settings import DEFAULT_PORT


def make_parser() -> argparse.ArgumentParser:
    """All commands with what each takes."""
    parser = argparse.ArgumentParser(prog="mudproof", description="A household's growing season, worked out as jobs.")
    parser.add_argument("--version", action="version", version=f"mudproof {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    one = commands.add_parser("demo", help="serve the made-up household; nothing to set up")
    one.add_argument("--on", metavar="DATE", help="show this day instead of today")
    one.add_argument("--data", type=Path, metavar="DIR", help="folder for its data (else your own data folder)")
    one.add_argument("--fresh", action="store_true", help="begin anew, throwing away what was written in the demo")
    _serving(one)

    one = commands.add_parser("serve", help="serve your own household on your home network")
    one.add_argument("--data", type=Path, metavar="DIR", required=True, help="folder of the database; made if it is not there")
    one.add_argument("--port", type=int, default=DEFAULT_PORT)
    way = one.add_mutually_exclusive_group()
    way.add_argument("--here", action="store_true", help="only on this very machine, with no joining")
    way.add_argument("--plain", action="store_true", help="without https: phones then need the server to open the app")
    way.add_argument("--behind", metavar="NAME", help="behind a proxy or tunnel that brings https for this name")

    one = commands.add_parser("join", help="a code by which one more phone joins")
    _reading(one)

    one = commands.add_parser("jobs", help="print the Round of a day")
    _reading(one)
    one.add_argument("--on", metavar="DATE", help="the day, like 2031-05-19; today if left out")
    one.add_argument("--place", metavar="P", help="only this place, by its name or id")
    one.add_argument(
        "--state", choices=["ready", "waiting", "early", "later", "done", "let go", "lapsed"], help="only jobs in this state"
    )
    one.add_argument("--minutes", type=int, metavar="N", help="only what fits into so many minutes")
    one.add_argument("--json", action="store_true", help="as JSON, just as the app works it out")

    one = commands.add_parser("fit", help="how many plants fit a bed")
    one.add_argument("length", metavar="LENGTH_CM")
    one.add_argument("width", metavar="WIDTH_CM")
    one.add_argument("spacing", metavar="SPACING_CM")
    one.add_argument("--row", metavar="CM", help="between rows; as far as in the row if left out")
    one.add_argument("--end", metavar="CM", help="kept free at the ends; half the spacing if left out")
    one.add_argument("--json", action="store_true", help="as the server's door tells it")

    one = commands.add_parser("room", help="how full each place is, week by week")
    _reading(one)
    one.add_argument("--on", metavar="DATE", help="from this day's week on; from today's if left out")
    one.add_argument("--place", metavar="P", help="only this place, by its name (Tunnel, bed 3) or id")
    one.add_argument("--json", action="store_true", help="as the server's door tells it")

    one = commands.add_parser("check", help="is the database sound, are the calendars, does the list work out?")
    _reading(one)
    one.add_argument(
        "--everywhere", action="store_true", help="every crop in every named climate, under every cover: about a minute"
    )

    one = commands.add_parser("export", help="everything as one file")
    _reading(one)
    one.add_argument("file", type=Path, nargs="?", metavar="FILE")

    one = commands.add_parser("import", help="bring a saved file in; twice is the same as once")
    _reading(one)
    one.add_argument("file", type=Path, metavar="FILE")

    one = commands.add_parser("diary", help="what was done, as a document or (--csv) a table")
    _reading(one)
    one.add_argument("--year", type=int, metavar="Y", help="only this year")
    one.add_argument("--csv", action="store_true", help="a table for a spreadsheet")
    one.add_argument("file", type=Path, nargs="?", metavar="FILE")

    one = commands.add_parser("backup", help="a checked copy of the database, made while it is in use")
    _reading(one)

    one = commands.add_parser("restore", help="put a copy back (the newest, or FILE); stop the server first")
    _reading(one)
    one.add_argument("file", type=Path, nargs="?", metavar="FILE")

    one = commands.add_parser("pack", help="everything on this server as one file, to move it to another machine")
    _reading(one)
    one.add_argument("file", type=Path, metavar="FILE")

    one = commands.add_parser("unpack", help="set a packed household up on this machine")
    _reading(one)
    one.add_argument("file", type=Path, metavar="FILE")

    return parser


def main(argv: list[str] | None = None) -> int:
    """Run one command. Returns the exit code: 0, or 2 where something was said instead."""
    args = make_parser().parse_args(argv)
    try:
        _run(args)
    except MudproofError as error:
        print(error.say, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 0
    except BrokenPipeError:
        # whoever read our output has had enough; there is nothing left to flush it to
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return 0


RUNS = {
    "demo": "demo.run",
    "serve": "home.serve",
    "join": "home.join",
    "jobs": "jobs.run",
    "fit": "fits.run",
    "room": "room.run",
    "check": "carry.check",
    "export": "carry.export",
    "import": "carry.bring",
    "diary": "diary.run",
    "backup": "keep.backup",
    "restore": "keep.restore",
    "pack": "keep.pack",
    "unpack": "keep.unpack",
}
"""Where each command stands in `server.commands`. It is read when it is given: a small board needs seconds for all."""


def _serving(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--host", default="127.0.0.1", help="only this very machine: 127.0.0.1, localhost or ::1")
    parser.add_argument("--port", type=int, default=DEFAULT_PORT)


def _reading(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--data", type=Path, metavar="DIR", required=True, help="folder of the database")


def _run(args: argparse.Namespace) -> None:
    module, function = RUNS[args.command].split(".")
    getattr(import_module(f"server.commands.{module}"), function)(args)


if __name__ == "__main__":
    sys.exit(main())
