"""A book as pages, a sheet or lines on a terminal: the only room that knows markup.

- a site: `site` (all of it), `page`, `addresses`, `assets`, `scripts`, `script_words`, `repository`, `keeping` (pages made before),
  `exported` (for other generators);
- HTML: `markup`, `formulas`, `prose`, `plot`;
- the page of a problem: `problem_page`, made of `banner`, `box`, `badges`, `remarks`, `solutions`, `first_move`, `find_slip`, `finish`,
  `film`, `pace`, `family`, `released`;
- other pages: `lists`, `composed_pages`, `contrast`, `manual`, `explained`, `errata`, `progress`, `report`, `formula_sheet`;
- print: `sheet`, `crib`, `handouts`, and its forms in `paper`;
- a terminal: `terminal`, `difference`, `suggested`, `class_summary`.
"""
