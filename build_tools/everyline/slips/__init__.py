"""Common student errors, one file each, and the diagnosis of a wrong answer."""

from .base import Slip
from .corruptions import corruptions
from .diagnose import Diagnosis, diagnose, wrong_answers
from .discovery import all_slips

__all__ = ["Diagnosis", "Slip", "all_slips", "corruptions", "diagnose", "wrong_answers"]
