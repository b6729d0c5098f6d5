"""Common student errors, one file each in `kinds`, and the diagnosis of a wrong answer.

- the way in: `diagnose` (a wrong answer), `at_line` (a wrong line), `corruptions` (wrong keys for tests and traps); `base`, `discovery`;
- what the kinds share: `answers` (taken apart), `aligned`, `compare` and `floats` (guesses sorted out), `linear`, `companions`,
  `integrals`, `powers`, `twisted` (rules got wrong), `estimate`.
"""

from .base import Slip
from .corruptions import corruptions
from .diagnose import Diagnosis, diagnose, wrong_answers
from .discovery import all_slips

__all__ = ["Diagnosis", "Slip", "all_slips", "corruptions", "diagnose", "wrong_answers"]
