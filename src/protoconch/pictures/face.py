"""The look of a drawing: its colours by day, by night and on paper, its letters, its patterns."""

from dataclasses import dataclass

from protoconch.pictures.lettering import SIZE_PX

LETTERS = '"Noto Sans","Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif'
"""Families asked for, plain sans-serif faces that the reader's machine has; none is fetched."""


@dataclass(frozen=True, slots=True)
class Colours:
    """The six colours of a page and its drawings.

    sand: the page; foam: the paper of a card; ink: words and lines; tide: the one accent;
    quiet: lesser words; rule: thin lines.
    """

    sand: str
    foam: str
    ink: str
    tide: str
    quiet: str
    rule: str


DAY = Colours("#f6f1e7", "#fffdf8", "#12303b", "#155961", "#3b535d", "#d9cfbd")
NIGHT = Colours("#0c1c23", "#132a33", "#f1e9da", "#7fcdcb", "#b4c0bf", "#35505a")
PAPER = Colours("#ffffff", "#ffffff", "#000000", "#333333", "#333333", "#b5b5b5")


def variables(colours: Colours) -> str:
    """The colours as CSS custom properties."""
    return "".join(
        f"--{name}:{getattr(colours, name)};"
        for name in ("sand", "foam", "ink", "tide", "quiet", "rule")
    )


def stylesheet() -> str:
    """Colours (day, night, print) and the styles of everything drawn, as CSS."""
    sizes = "".join(f".picture .{name}{{font-size:{px:g}px}}" for name, px in SIZE_PX.items())
    return (
        f":root{{{variables(DAY)}}}"
        f"@media(prefers-color-scheme:dark){{:root{{{variables(NIGHT)}}}}}"
        f"@media print{{:root{{{variables(PAPER)}}}}}"
        f".picture{{font-family:{LETTERS};font-variant-numeric:tabular-nums}}" + sizes + _STYLES
    )


_STYLES = (
    ".picture text{fill:var(--ink);paint-order:stroke;stroke:var(--foam);stroke-width:3px;"
    "stroke-linejoin:round}"
    ".picture .strong,.picture .large{font-weight:650}"
    ".picture .small{fill:var(--quiet)}"
    ".picture .stage{stroke:none}"
    ".picture path,.picture line{fill:none;stroke-linejoin:round}"
    ".picture .rule{stroke:var(--rule);stroke-width:1}"
    ".picture .base{stroke:var(--ink);stroke-width:1}"
    ".picture .middle{stroke:var(--ink);stroke-width:1.8}"
    ".picture .seldom{stroke:var(--ink);stroke-width:1;stroke-dasharray:2 2.5}"
    ".picture .tenfold{stroke:var(--foam);stroke-width:1.1}"
    ".picture .limit{stroke:var(--tide);stroke-width:1.6;stroke-dasharray:7 4}"
    ".picture .mark{stroke:var(--tide);stroke-width:2}"
    ".picture .chip{fill:var(--foam);stroke:none}"
    ".picture .frame{fill:none;stroke:var(--rule)}"
    ".picture .used{fill:var(--ink);fill-opacity:.22;stroke:none}"
    ".picture .might{fill:var(--ink);fill-opacity:.13;stroke:none}"
    ".picture .met{fill:var(--ink);stroke:var(--ink);stroke-width:1.4}"
    ".picture .missed{fill:var(--foam);stroke:var(--ink);stroke-width:1.4}"
    ".picture .sure{fill-opacity:1;stroke:none}.picture .half{opacity:.55;stroke:none}"
    ".picture .few{opacity:.22;stroke:none}"
    ".picture .f-ink{fill:var(--ink)}.picture .f-foam{fill:var(--foam)}"
    ".picture .f-tide{fill:var(--tide)}.picture .s-ink{stroke:var(--ink)}"
    ".picture .s-tide{stroke:var(--tide)}.picture .s-foam{stroke:var(--foam)}"
)
