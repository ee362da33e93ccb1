"""Whether an entry can be true, and whether somebody should look at it twice."""

from protoconch.log.checking.expected import Expected, expected_range
from protoconch.log.checking.judging import judged
from protoconch.log.checking.verdict import Verdict

__all__ = ["Expected", "Verdict", "expected_range", "judged"]
