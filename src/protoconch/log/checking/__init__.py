"""Whether an entry can be true, and whether somebody should look at it twice."""

from protoconch.log.checking.expected import Expected, expected_range
from protoconch.log.checking.judging import alone, beside, judged
from protoconch.log.checking.verdict import Known, Verdict

__all__ = ["Expected", "Known", "Verdict", "alone", "beside", "expected_range", "judged"]
