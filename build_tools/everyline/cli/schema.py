"""`everyline schema`: what may stand at the head of a file, as a JSON Schema."""

from __future__ import annotations

import argparse
from pathlib import Path

from .books import language_of
from .shared import RIGHT, Commands

KINDS = ("problem", "chapter", "set", "lesson", "contrast", "book")


def add(commands: Commands) -> None:
    schema = commands.add_parser("schema", help="the fields of a file as a JSON Schema, for an editor that helps while one types")
    schema.add_argument("kind", nargs="?", choices=KINDS, default="problem", help="what kind of file (default: problem)")
    schema.add_argument("--book", default="content", metavar="DIR", help="the book whose language is spoken (default: content)")
    schema.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    import json

    from ..language import translator
    from ..source.json_schema import json_schema
    from ..techniques import catalogue

    tell = translator(language_of(Path(options.book)))
    print(json.dumps(json_schema(options.kind, list(catalogue()), tell), ensure_ascii=False, indent=2))
    return RIGHT
