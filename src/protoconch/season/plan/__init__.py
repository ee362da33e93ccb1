"""From a target to a season: options, search, proof, judgement, limits, offers."""
