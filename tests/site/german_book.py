"""A book in German with every kind of page and fold in it, and the settings of its site."""

from __future__ import annotations

SETTINGS = """\
site_name: Am Hafen
repo_url: https://github.com/harbour-lane/hafen
edit_uri: edit/main/content/
docs_dir: content
theme:
  name: material
  font: false
plugins:
  - search
  - everyline: {report: true}
validation: {nav: {omitted_files: ignore}}
"""

BOOK = {
    "book.yml": """\
        title: Am Hafen
        language: de
        log: natural
        decimal: comma
        license: CC BY 4.0
        edition: Zweite Ausgabe
        dated: 2026-03-09
        errata: ["2026-05-01 fluss/faehre Ein Vorzeichen wurde berichtigt."]
        """,
    "index.md": "---\ntitle: Am Hafen\n---\n# Am Hafen\n\nEin kleines Buch, mit $F'(x) = f(x)$ im Text.\n",
    "fluss/index.md": "---\ntitle: Flussaufwärts\norder: 1\n---\n\nMit $x$ im Nenner.\n",
    "fluss/faehre.md": """\
        ---
        question: \\int \\frac{x^2}{x+4} \\, dx
        key: \\frac{x^2}{2} - 4x + 16\\ln|x+4| + C
        title: Eine Fähre, die teilt
        level: 2
        hints: ["Dividiere zuerst: $x^2 = (x+4)(x-4) + 16$.", "Dann steht jedes Stück in der Tabelle."]
        author: R. Okafor
        source: Abendschule
        license: CC BY 4.0
        video: https://example.org/film
        times: ["0:12", "0:40"]
        ---

        Siehe [die Schleuse](schleuse.md), wo $u = 2x + 7$ ist.
        """,
    "fluss/schleuse.md": """\
        ---
        question: \\int (ax+b)^5 \\, dx
        key: \\frac{(ax+b)^6}{6a} + C
        title: Die Schleuse füllt sich
        hints: [Was steht innen?]
        vary: {a: 2..5, b: 1..3}
        ---
        """,
    "fluss/fahrplan.md": """\
        ---
        question: \\int (x^9 + 2x^8 - 3x^7 + 4x^6 - 5x^5 + 6x^4 - 7x^3 + 8x^2) \\, dx
        key: x^{10}/10 + \\frac29 x^9 - \\frac38 x^8 + \\frac47 x^7 - \\frac56 x^6 + \\frac65 x^5 - \\frac74 x^4 + \\frac83 x^3 + C
        title: Ein sehr langer Fahrplan
        level: 3
        ---
        """,
    "fluss/wirbel.md": """\
        ---
        question: \\int x(x^2+3)^4 \\, dx
        key: \\frac{(x^2+3)^5}{10} + C
        title: Ein Wirbel
        methods: [substitution, expansion]
        ---
        """,
    "fluss/kehrwert.md": """\
        ---
        question: \\int \\frac{6}{x^4} \\, dx
        key:
          - -\\frac{2}{x^3} + C
          - -2x^{-3} + C
        title: Zwei Schreibweisen
        ---
        """,
    "fluss/von-hand.md": """\
        ---
        question: \\int (3x^2 + 4x) \\, dx
        key: x^3 + 2x^2 + C
        title: Von Hand
        ---

        ```lines
        = \\int 3x^2 \\, dx + \\int 4x \\, dx ; gliedweise
        = x^3 + 2x^2 + C
        ```
        """,
    "fluss/spaeter.md": """\
        ---
        question: \\int \\frac{34x}{(x^2+7919)^2} \\, dx
        key: -\\frac{17}{x^2+7919} + C
        title: Noch nicht
        release: 2097-03-01
        hints: [Was steht innen?]
        ---
        """,
    "tabelle/index.md": "---\ntitle: Aus der Tabelle\norder: 2\n---\n",
    "tabelle/halb.md": "---\nquestion: \\int \\sec^2 x \\, dx\nkey: \\tan x + C\ntitle: Halb\ndomain: 0 < x < 1\n---\n",
    "tabelle/buchstabe.md": "---\nquestion: \\int e^{ax} \\, dx\nkey: \\frac{e^{ax}}{a} + C\ntitle: Ein Buchstabe\ngiven: a > 0\n---\n",
    "tabelle/streifen.md": """\
        ---
        question: \\int_0^{\\pi} 4\\cos 2x \\, dx
        key: 0
        title: Ein Streifen unter der Welle
        ---
        """,
    "tabelle/steigung.md": """\
        ---
        question: \\frac{d}{dx} \\left( x^2 \\sin 5x \\right)
        key: 2x \\sin 5x + 5x^2 \\cos 5x
        title: Die Steigung eines Produkts
        ---
        """,
    "tabelle/mauer.md": "---\nquestion: \\int_0^2 \\frac{7}{x^3} \\, dx\nkey: \\text{diverges}\ntitle: An der Mauer\n---\n",
    "tabelle/pegel.md": "---\nquestion: \\int_0^{1,5} 0,5x \\, dx\nkey: 0,5625\ntitle: Am Pegel\n---\n",
    "tabelle/ufer.md": "---\nquestion: \\lim_{x \\to 0} \\frac{\\sin 3x}{x}\nkey: 3\ntitle: Am Ufer\n---\n",
    "tabelle/zittern.md": """\
        ---
        question: \\lim_{x \\to 0} \\sin\\frac{1}{x}
        key: does not exist
        title: Ein Zittern
        vouched: {name: R. Okafor, reason: Der Sinus schwankt immer schneller.}
        ---
        """,
    "contrasts/zwei-wege.md": """\
        ---
        title: Neue Variable oder ausmultiplizieren?
        kind: two methods
        problems: [fluss/wirbel]
        methods: [substitution, expansion]
        point: Der Faktor vor der Klammer ist bis auf eine Zahl die innere Ableitung.
        ---
        """,
    "contrasts/klammern.md": """\
        ---
        title: Zwei Klammern
        problems: [fluss/wirbel, fluss/fahrplan]
        point: Nur die eine Klammer steht in einer Potenz.
        ---
        """,
    "sets/ebbe.md": "---\ntitle: Bei Ebbe\nproblems: [fluss/faehre, fluss/von-hand, fluss/wirbel]\n---\n\nErst denken, dann schreiben.\n",
    "lessons/rundgang.md": """\
        ---
        title: Rund um den Hafen
        minutes: 12
        ---

        Du brauchst Papier.

        ```problem fluss/faehre
        minutes: 6
        predict: Was bleibt beim Dividieren übrig?
        say: Warten.
        ```

        ```set ebbe
        minutes: 3
        ```

        ```contrast klammern
        minutes: 3
        ```
        """,
}  # fmt: skip
