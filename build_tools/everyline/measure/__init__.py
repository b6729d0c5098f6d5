"""Where an expression is defined, points there, and its values to N digits: for whoever shows or ships them. Decides nothing."""

from .domains import Component, End, components, points, question_components
from .values import Enclosed, enclose, increment

__all__ = ["Component", "Enclosed", "End", "components", "enclose", "increment", "points", "question_components"]
