"""The medium bench: what is usually taken where nobody says otherwise."""

from protoconch.sources.reading import load_catalogue


def usual_chlorine_mg_l() -> float:
    """Chlorine to add: what shall be left and what filtered seawater eats of it [mg/L].

    Source: sources/tables/sterilising.toml.
    """
    table = load_catalogue("sterilising")["chlorine"]
    residual, demand = (table[name].number for name in ("residual_mg_l", "demand_mg_l"))
    return float(residual + demand)


def usual_residual_mg_l() -> float:
    """Chlorine that should be left in the morning [mg/L]; as `usual_chlorine_mg_l`."""
    return float(load_catalogue("sterilising")["chlorine"]["residual_mg_l"].number)
