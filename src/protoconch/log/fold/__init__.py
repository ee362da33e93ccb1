"""The state of the hatchery as it follows from the log, at its end or as of any moment."""

from protoconch.log.fold.corrections import as_corrected
from protoconch.log.fold.folding import Folding
from protoconch.log.fold.replay import as_of, can_follow, fold

__all__ = ["Folding", "as_corrected", "as_of", "can_follow", "fold"]
