"""The look by day, by night and on paper."""

import pytest

from protoconch.pictures.face import DAY, NIGHT, PAPER, stylesheet
from protoconch.pictures.lettering import SIZE_PX

LOOKS = {"day": DAY, "night": NIGHT, "paper": PAPER}


def contrast(one, other):
    """Ratio by WCAG 2.2, relative luminance of sRGB."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour):
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ground", ["sand", "foam"])
@pytest.mark.parametrize("words", ["ink", "quiet", "tide"])
def test_words_stand_out_from_their_ground_as_wcag_asks(look, ground, words):
    assert contrast(getattr(LOOKS[look], words), getattr(LOOKS[look], ground)) >= 4.5


def test_the_ratio_of_black_on_white_is_the_published_21():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


def test_paper_is_black_on_white():
    assert (PAPER.ink, PAPER.foam, PAPER.sand) == ("#000000", "#ffffff", "#ffffff")
    assert all(c[1:3] == c[3:5] == c[5:7] for c in (PAPER.tide, PAPER.quiet, PAPER.rule))


def test_night_and_paper_have_their_own_colours():
    css = stylesheet()
    night = css.index("prefers-color-scheme:dark")
    assert NIGHT.sand in css[night:]
    assert PAPER.foam in css[css.index("@media print") :]


def test_lettering_is_never_smaller_than_twelve_pixels():
    assert min(SIZE_PX.values()) >= 12
