"""Scenes for the work from larvae that are ready to post-larvae on trays, one for each step."""

SETTLING: dict[str, tuple[str, ...]] = {
    "test competence": (
        (
            "dish 34 88 x1.3; larvae 34 58 x0.7; dish 98 88 x1.3; larvae 98 58 x0.7; "
            "dropper_bottle 98 34 x0.9"
        ),
        (
            "shade 66 34 x1.4; dish 36 88; cover 36 82; dish 92 88; cover 92 82; thermometer "
            "122 82 x0.9"
        ),
        (
            "dish 34 88 x1.1; clock 34 40; right 66 42; moon 88 38 x0.8; dish 100 88 x1.1; sun "
            "114 38 x0.7"
        ),
        "view 38 48 x1.1; veliger 38 48 x0.9; right 82 48; snail 110 52 x1.1",
        (
            "dish 26 88 x1.1; snails 26 78 x0.6; yes 26 44; or 58 56; dish 94 88 x1.1; larvae "
            "94 66 x0.5; calendar 94 38 x0.9"
        ),
    ),
    "settle": (
        (
            "tank 32 88; basin 92 92 x0.8; sieve 90 76; larva 86 60 x0.8; larva 100 60 x0.8; "
            "siphon 46 44 x0.75"
        ),
        (
            "bucket 30 88 x1.2; larvae 30 58 x0.6; pipette 38 52 x0.9; dish 66 88 x0.62; dish "
            "92 88 x0.62; dish 118 88 x0.62; eye 100 34"
        ),
        (
            "beaker 66 30 x0.9; tray 34 88 x0.85; film 34 88 x0.85; tray 100 88 x0.85; film "
            "100 88 x0.85; larvae 34 68 x0.5; larvae 100 68 x0.5; down 40 46; down 92 46"
        ),
        (
            "pipe 30 24; valve_shut 68 24; tray 66 88 x1.5; film 66 88 x1.5; larva 50 66 x0.8; "
            "larva 82 66 x0.8"
        ),
        (
            "tray 30 62 x0.7; tray 30 84 x0.7; larva 22 50 x0.7; larva 36 50 x0.7; larva 30 72 "
            "x0.7; tank_empty 78 88 x0.7; log 112 88 x0.9; pen 116 74 x0.8"
        ),
    ),
    "induce": (
        (
            "seaweed 24 64 x1.1; beaker 24 90 x1.01; or 62 56 x1.2; bottle 96 88 x1.1; measure "
            "120 88 x0.9; goggles 96 24 x0.7"
        ),
        "tray 50 88 x1.3; up_down 50 76 x0.5; measure 112 88 x1.1; eye 50 40",
        (
            "beaker 34 46 <; down 62 40 x0.8; tray 62 88 x1.4; film 62 88 x1.4; turn 62 70; "
            "clock 112 36"
        ),
        (
            "shade 66 36 x1.4; tray 66 88 x1.3; film 66 88 x1.3; larva 50 70 x0.8; larva 80 70 "
            "x0.8; valve_shut 116 60 x0.8; clock 16 60 x0.8"
        ),
        (
            "sun 112 24 x0.8; pipe 22 22; valve 46 22; stream 64 24 x1.6; tray 66 88 x1.4; "
            "film 66 88 x1.4; flow 60 72; flow 84 72"
        ),
        "tray 50 88 x1.3; snails 46 82; eye 50 46; log 112 88 x0.95; pen 116 72 x0.8",
    ),
    "tray care": (
        (
            "pipe 20 32; stream 40 34 x1.4; tray 64 88 x1.4; film 64 88 x1.4; flow 64 74; "
            "strainer 104 74 x0.7; eye 84 36"
        ),
        (
            "tray 24 88 x0.6; tray 66 88 x0.6; film 66 88 x0.6; tray 108 88 x0.6; film 108 88 "
            "x0.6; film 108 85 x0.6; film 108 82 x0.6; down 24 62; yes 66 62 x0.8; no 108 62 "
            "x0.8"
        ),
        "jar 40 40 <; diatoms 64 48 x0.8; tray 66 88 x1.5; hand 50 26 x0.9; film 84 88 x0.5",
        "tray 48 88 x1.2; hand 60 60 x0.9; dead 50 56 x0.7; worm 36 82 x0.7; log 116 88 x0.75",
    ),
    "split trays": (
        (
            "pipe 16 28; stream 36 30 x1.5; tray 62 88 x1.4; film 62 88 x1.4; flow 62 74; "
            "strainer 102 74 x0.7; yes 100 38"
        ),
        "basin 56 88 x1.2; snails 50 82; brush 62 74 x1.2",
        (
            "basin 66 88 x1.4; tray 36 84 x0.6; tray 96 84 x0.6; snail 36 72 x0.7; right 66 "
            "72; snail 96 72 x0.7"
        ),
        (
            "tray 30 88 x0.8; snails 30 80 x0.7; tray 30 58 x0.8; snails 30 50 x0.7; eye 78 "
            "34; log 110 88 x1.1; pen 114 70"
        ),
    ),
}
"""Scenes by kind of work, as `kit.drawing` reads them."""
