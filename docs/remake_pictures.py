"""Remakes the pictures of the README from the invented hatchery: python docs/remake_pictures.py."""

from pathlib import Path

from protoconch.cli.plan import SEED, asked_target, described_hatchery, season
from protoconch.pictures.futures import futures_dots
from protoconch.pictures.ribbons import season_ribbons

HERE = Path(__file__).resolve().parent / "pictures"


def main() -> None:
    """Plan the demo and draw its season and its odds."""
    hatchery = described_hatchery("demo")
    target = asked_target(hatchery, None, None, None, None)
    plan = season(hatchery, target, today=None, seed=SEED, compare=False)
    HERE.mkdir(exist_ok=True)
    for name, picture in (("season", season_ribbons(plan)), ("odds", futures_dots(plan))):
        (HERE / f"{name}.svg").write_text(picture.standalone(), encoding="utf-8")


if __name__ == "__main__":
    main()
