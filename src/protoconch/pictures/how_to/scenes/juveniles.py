"""Scenes for the work with juveniles until their release, one for each step."""

JUVENILES: dict[str, tuple[str, ...]] = {
    "move to nursery": (
        "basin 60 88 x1.35; tray 58 82 x0.9; snails 46 76 x0.8; brush 66 76 x1.2",
        (
            "basin 60 88 x1.35; sieve 60 78 x1.1; snails 60 60 x0.8; sand 50 84; sand 72 84; "
            "hand 82 62 x0.8"
        ),
        "snails 30 46; snails 30 60; eye 30 24; or 66 56; scale 102 88; snails 102 66 x0.8",
        (
            "floor 66 88 x1.3; snail 30 80 x0.7; snail 66 80 x0.7; snail 102 80 x0.7; hand 76 "
            "42 x0.9; snail 64 46 x0.7"
        ),
        "floor 44 88 x0.8; snails 44 82 x0.8; tag 44 48; log 108 88 x1.1; pen 112 70",
    ),
    "feed pellets": (
        "floor 66 88 x1.3; pellets 40 82; pellets 62 84 x0.8; snail 98 80 x0.7; eye 66 36 x1.2",
        "scale 46 88; beaker 46 69 x0.8; pellets 46 64 x0.6; no 110 70 x0.9; clumps 110 70 x1.3",
        (
            "floor 66 88 x1.3; hand 60 26; pellets 52 44; pellets 30 50 x0.8; pellets 86 52 "
            "x0.8; snail 40 80 x0.7; snail 92 80 x0.7; moon 118 20 x0.7"
        ),
        "log 80 88 x1.3; pen 88 62; beaker 26 88; pellets 26 80 x0.6",
    ),
    "siphon": (
        "basin 42 88 x0.8; siphon 58 74 x0.85; face 110 52 x0.8; no 110 52 x1.3; flow 42 74",
        "floor 46 88; waste 52 84; siphon 64 78 x0.95; bucket 110 92 x0.9; snail 24 80 x0.6",
        "bucket 44 92 x1.3; snail 40 26; hand 54 24; waste 44 88; up 16 40; eye 104 72",
        "floor 46 88; dead 42 54 x0.8; hand 56 56 x0.9; log 116 88 x0.8",
        (
            "pipe 22 30; stream 42 32 x1.5; floor 66 88 x1.1; thermometer 74 82; strainer 104 "
            "72 x0.7; eye 100 34"
        ),
    ),
    "grade": (
        "basin 24 88 x0.5; basin 108 88 x0.5; board 66 88; pen 78 72 x0.9",
        "board 52 88 x1.2; conch 52 56; hand 70 52 x0.9; left 20 40; right 112 30",
        "basin 34 88 x0.65; conch 34 54 x0.9; basin 98 88 x0.65; snails 98 60; eye 66 26",
        (
            "floor 34 88 x0.7; conch 34 78 x0.7; floor 100 88 x0.7; snails 100 82 x0.8; down "
            "34 46; down 100 46"
        ),
        "conch 26 32 x0.9; snails 26 66; log 92 88 x1.3; pen 98 62",
    ),
    "weigh and measure": (
        (
            "floor 66 88 x1.3; snail 28 78 x0.7; snail 62 82 x0.7; snail 102 78 x0.7; basket "
            "66 36 x0.9; up 34 48; up 66 56 x0.8; up 98 48"
        ),
        "caliper 40 64 x1.1; conch 36 74 x0.72; or 76 60; microscope 108 88",
        (
            "basket 28 46; drop 22 62 x0.5; drop 34 64 x0.5; right 58 46; scale 98 88; basket "
            "98 69 x0.9; snails 28 20 x0.7"
        ),
        (
            "floor 66 88 x1.3; snail 24 80 x0.7; snail 66 80 x0.7; snail 108 80 x0.7; hand 40 "
            "44 x0.9; down 66 60 x0.7"
        ),
        "log 66 88 x1.4; conch 22 44 x0.8; pen 74 60; scale 114 88 x0.6",
    ),
    "prepare release": (
        "paper 36 88 x1.6; pen 58 60; calendar 102 72",
        "conch 36 62 x1.2; eye 36 28; cross 102 36; or 80 60; paper 106 92 x0.9",
        "conch 46 60 x1.3; tag 60 48 x0.6; hand 74 44",
        "boat 34 38 x1.1; waves 34 46 x0.5; box 96 88; shade 96 34 x0.8; bucket 34 90 x0.9",
    ),
    "release": (
        (
            "shade 66 34 x1.5; box_open 66 88 x1.2; conch 52 70 x0.6; conch 78 70 x0.6; sun 18 "
            "20 x0.7; log 116 88 x0.7"
        ),
        "carry 66 88; bench 66 88",
        (
            "box_open 38 88; thermometer 38 78 x0.9; same 78 56; waves 112 66 x0.5; "
            "thermometer 112 84 x0.9; clock 78 26 x0.8"
        ),
        (
            "waves 66 18; sea_floor 66 86; conch 26 76 x0.7; conch 104 76 x0.7; conch 62 66 "
            "x0.7; hand 70 52 x0.8"
        ),
        "sea_floor 40 86 x0.6; conch 36 76 x0.9; clock 36 34; log 102 88 x1.2; pen 108 66",
    ),
}
"""Scenes by kind of work, as `kit.drawing` reads them."""
