"""A catalogue brought up to date with the sentences of the code: `python -m everyline.language.keeping`, in a checkout."""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from .sentences import sentences


def brought_up_to_date(written: bytes, code: str, known: Mapping[str, str]) -> bytes:
    """The file of a language with each sentence of `known` (sentence to the module that has it): translations stay, what is new is
    empty, what nobody says any more goes. The same sentences give the same bytes."""
    said = {str(message.id): str(message.string) for message in read_po(BytesIO(written), code)}
    made = Catalog(code, fuzzy=False)
    for text, module in sorted(known.items(), key=lambda row: (row[1], row[0])):
        made.add(text, said.get(text, ""), auto_comments=[module])
    # The head says what a reader of the format needs, and nothing that changes with the day.
    head = f'msgid ""\nmsgstr ""\n"Language: {code}\\n"\n"Content-Type: text/plain; charset=utf-8\\n"\n\n'
    body = BytesIO()
    write_po(body, made, width=140, omit_header=True)
    return head.encode() + body.getvalue()


def main() -> None:
    """Brings every catalogue of the checkout up to date."""
    here = Path(__file__).parent
    known = sentences(here.parent)
    for file in sorted(here.glob("*.po")):
        file.write_bytes(brought_up_to_date(file.read_bytes(), file.stem, known))


if __name__ == "__main__":
    main()
