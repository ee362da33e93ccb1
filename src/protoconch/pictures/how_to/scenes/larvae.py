"""Scenes for the work from the egg mass to larvae that are nearly ready, one for each step."""

LARVAE: dict[str, tuple[str, ...]] = {
    "collect": (
        "paper 30 84; calendar 66 74; sun 108 26 x0.8; cloud 106 40 x0.8; yes 104 74 x0.8",
        "waves 66 16; sea_floor 66 84; strand 46 72; knife 66 70; hand 106 64 x0.8",
        "bag 36 88; piece 36 80 x0.6; tag 36 40 x0.9; bag 92 88; piece 92 80 x0.6; tag 92 40 x0.9",
        "shade 66 32 x1.3; bench 66 88; box_open 66 88; bag 54 86 x0.7; bag 78 86 x0.7",
        "bag 34 88; piece 34 80 x0.6; right 66 64; log 104 88; pen 108 74 x0.9",
    ),
    "incubate": (
        (
            "basin 60 88; strand 60 62; stream 60 22 x1.3; valve 60 14 x0.8; drop 82 46 x0.7; "
            "hand 84 62 x0.8"
        ),
        (
            "basin 42 88 x0.9; strand 40 72; hand 62 50 x0.8; piece 54 52 x0.5; no 90 22 x0.7; "
            "down 114 34; can 114 88 x0.9"
        ),
        (
            "basin 54 88; strand 54 70 x0.9; bubbles 24 80 x0.8; bubbles 84 80 x0.8; pipe 30 "
            "22; stream 54 22 x1.4; flow 54 46; clock 112 26 x0.9; yes 112 64"
        ),
        "microscope 28 88; view 92 48 x1.1; capsules 88 48 x0.95",
        "basin 50 88; strand 44 72 x0.8; thermometer 78 78 x1.1; tag 112 44 x0.9; pen 104 76 x0.9",
    ),
    "stock": (
        "tank 44 88; stream 44 4 x1.2; thermometer 86 70; same 104 50; thermometer 122 70",
        (
            "bucket 32 88 x1.3; larvae 32 58 x0.8; siphon 42 52 x0.9; bucket 92 88 x1.1; eye "
            "98 28 x0.9; dead 116 82 x0.6"
        ),
        (
            "bucket 28 88 x1.2; pipette 32 62; larvae 28 72 x0.7; dish 66 88 x0.62; dish 92 88 "
            "x0.62; dish 118 88 x0.62; dish 79 70 x0.62; dish 105 70 x0.62"
        ),
        (
            "tank 40 88; measure 78 44 x0.8 <; down 52 22; larvae 40 50 x0.8; hand 84 26 x0.8; "
            "log 116 88 x0.8"
        ),
        (
            "tank 56 88 x1.25; air_line 56 72 x1.1; bubbles 64 66; bubbles 48 70 x0.8; larvae "
            "56 46; yes 112 56"
        ),
    ),
    "count": (
        "tank 46 88 x1.2; up_down 46 46 x1.4; turn 102 44; no 102 44; larvae 46 46 x1.1",
        (
            "tank 36 88; pipette 40 44 x1.1; larvae 34 52 x0.8; beaker 80 88 x0.8; beaker 106 "
            "88 x0.8; up_down 74 40; drop 106 50 x0.7"
        ),
        (
            "dish 26 88 x0.9; larva 26 80 x0.7; microscope 70 88; dish 114 88 x0.9; larva 114 "
            "80 x0.7; right 48 60 x0.7"
        ),
        (
            "view 38 44 x1.1; larva 26 34 x1.3; larva 46 40 x1.3; larva 34 60 x1.3; apart 74 "
            "44; dead 100 30 x0.8; dead 100 62 x0.8"
        ),
        "dish 92 40; larva 84 38 x0.6; left 66 32; tank 34 88; larvae 34 50 x0.8; hand 106 44 x0.6",
    ),
    "thin": (
        (
            "hose 22 18 x1.1; stream 46 40; sieve 50 66 x1.1; larva 44 52; larva 58 52; sieve "
            "50 86 x1.1; larva 45 74 x0.6; larva 55 74 x0.6; down 94 52 x1.4"
        ),
        "basin 66 88 x1.3; sieve 66 80 x1.1; larvae 66 64 x0.7; yes 112 34",
        (
            "sieve 30 88; larva 22 62; larva 38 62; sieve 92 88; larva 84 66 x0.6; larva 94 62 "
            "x0.6; larva 102 67 x0.6; pipette 58 70 x0.9; eye 62 20"
        ),
        (
            "sieve 26 40 x0.9; larva 20 26; larva 33 26; right 58 34; tank 94 88; larva 86 50; "
            "larva 102 46"
        ),
        (
            "tank 34 88 x0.9; larvae 34 54 x0.7; can 76 88 x0.8; larva 76 46 x0.7; down 76 52 "
            "x0.6; log 112 88 x0.95; pen 114 72 x0.8"
        ),
    ),
    "change water": (
        "basin 50 88; sieve 50 82 x1.1; eye 106 34 x1.1; sun 104 66 x0.6",
        (
            "tank 32 88; bucket 86 92 x1.25; sieve 86 66; larva 82 50 x0.7; larva 95 50 x0.7; "
            "siphon 46 40 x0.75; drop 118 70 x0.7; drop 60 86 x0.6"
        ),
        (
            "sieve 32 42; larva 26 24; larva 38 24; right 62 46; bucket 94 88 x1.3; larvae 94 "
            "66 x0.6; thermometer 118 86 x0.9"
        ),
        "tank_empty 44 88 x1.2; scrubber 58 48 x0.9; hand 66 38 x0.9; drop 100 78",
        (
            "pipe 26 14; stream 50 14 x1.6; tank 50 88; thermometer 92 74; same 108 54; "
            "thermometer 124 74"
        ),
        (
            "bucket 104 42 x0.9 <; left 74 26; larvae 60 46 x0.6; tank 44 88 x1.1; air_line 36 "
            "80; bubbles 42 74 x0.7; larvae 48 52 x0.6"
        ),
    ),
    "feed": (
        "carboy 28 88; pipette 58 58 x0.9; slide 58 88 x0.9; microscope 104 88",
        "bottle 24 88 x1.1; bottle 54 88 x1.1; or 80 66; scale 108 88; cells 108 58 x0.7",
        "carboy 30 88; clumps 30 76 x1.1; face 76 44 x0.9; no 114 70",
        (
            "carboy 24 60 x0.9; carboy 108 60 x0.9; bucket 66 88 x1.1; right 48 30; left 84 30 "
            "x0.9; stream 66 36"
        ),
        (
            "bucket 102 40 x0.9 <; left 76 24; tank 44 88; cells 44 50 x0.8; half 76 76 x1.1; "
            "sun 98 74 x0.6; moon 120 74 x0.7"
        ),
        "log 66 88 x1.3; pen 74 60; tank 20 88 x0.6; carboy 114 88 x0.7",
    ),
    "measure": (
        (
            "tank 40 88 x1.1; bulb 40 66 x1.1; larvae 38 44; up_down 80 48 x1.2; dish 108 88 "
            "x0.9; larva 108 79 x0.7"
        ),
        "slide 50 88 x1.5; drop 50 62; larva 50 60 x0.6; pipette 56 46; bench 66 89",
        "view 46 48 x1.4; veliger 46 44 x0.9; up_down 78 48 x0.9; microscope 112 88 x0.9",
        "veliger 40 46 x1.5; eye 100 30; log 100 90 x0.9",
        "log 66 88 x1.4; larva 52 46; larva 52 60; larva 52 72; pen 86 74",
    ),
}
"""Scenes by kind of work, as `kit.drawing` reads them."""
