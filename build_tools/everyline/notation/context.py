"""What a text may refer to: the letters that are declared and the conventions of the book."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .question import Question

#: Letters that stand for a variable unless they are declared as parameters; any other letter is taken for a coefficient.
USUAL_VARIABLES = frozenset(("r", "s", "t", "u", "v", "w", "x", "y", "z", "theta", "phi", "vartheta", "varphi", "psi", "tau", "rho"))


@dataclass(frozen=True, slots=True)
class Context:
    r"""How a text is to be read.

    `names` are the declared variables and parameters; `parameters` says which of them are surely parameters (`\sin tx` needs to
    know). `log` is what `\log` means: `natural`, `10` or `ask`. `decimal` is the book's decimal sign, `point` or `comma`.
    `constants` lets an undeclared C (also c, k, K, C_1 as an added term) be the constant of integration.
    """

    names: frozenset[str] = frozenset()
    log: str = "ask"
    decimal: str = "point"
    constants: bool = True
    parameters: frozenset[str] = frozenset()

    def declare(self, *names: str) -> Context:
        """The same context with more names."""
        return replace(self, names=self.names.union(names))

    def of(self, question: Question) -> Context:
        """The context in which a question's key and lines are read: its variable and its parameters are declared."""
        given = question.given.names
        return replace(self, names=self.names | given | {question.variable}, parameters=self.parameters | given)


def is_variable(name: str, parameters: frozenset[str]) -> bool:
    """Whether a letter is a variable by custom: `x` and `x_1` are, `a` is not."""
    return name not in parameters and name.partition("_")[0] in USUAL_VARIABLES
