"""Algebra on our tree, as a teacher does it: tidy, expand, factor, divide, split. Untrusted: the kernel checks what comes of it.

- the ground: `tidy`, `terms` (products as data), `order`, `numbers` (constants by balls), `signs`, `clock`;
- polynomials and fractions: `poly`, `fraction`, `expand`, `common` (taking out), `cancel`,
  `rewrite` (in terms of an inside), `powers`;
- functions: `derivative`, `pythagoras`, `values` (known by heart), `unbroken`, `barless` (where no bars are needed),
  `zeros`; limits: `limits`, `growth`;
- `answers` (a number as a last line has it); `sympy_bridge`.
"""

from .expand import distribute, multiply_out
from .signs import positive
from .terms import Term, term_of
from .tidy import join, tidy

__all__ = ["Term", "distribute", "join", "multiply_out", "positive", "term_of", "tidy"]
