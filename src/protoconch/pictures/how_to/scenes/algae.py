"""Scenes for the work in the algae room, one for each step."""

ALGAE: dict[str, tuple[str, ...]] = {
    "look at cultures": (
        "lamp 56 16 x1.2; carboy 32 88; carboy 80 88; eye 116 54 x0.9",
        "carboy 34 88; turn 34 66; yes 64 24 x0.7; carboy 98 88; clumps 94 80 x1.2; no 98 24 x0.65",
        "carboy 38 88; face 90 46 <",
        "microscope 26 88; view 90 48 x1.2; cells 90 40 x1.2; swimmer 94 62 x1.2",
        (
            "carboy 22 88 x0.85; carboy 62 88 x0.85; carboy 108 88 x0.85; tag 108 72 x0.8; "
            "right 42 28; no 108 24 x0.7"
        ),
    ),
    "count cells": (
        "carboy 40 88 x1.2; pipette 46 56 x1.2; swirl 102 34; tube 104 88",
        (
            "tube 28 88 x1.3; dropper_bottle 28 38; beaker 70 88; right 94 62 x0.8; tube 116 "
            "88 x1.3; drop 70 46 x0.8"
        ),
        "slide 60 84 x1.8; pipette 42 64; clock 108 34; cover 62 66 x0.8",
        "view 66 48 x1.45; squares 66 48 x1.4; cells 58 42 x1.2; cells 78 60 x0.9",
        "slide 32 60 x0.9; cloth 32 78; right 66 56; slide 102 60 x0.9; pipette 98 50; swirl 66 24",
        "squares 36 48 x1.1; cells 36 48; log 100 88 x1.3; pen 106 62",
    ),
    "make medium": (
        "pipe 18 26; housing 54 76 x0.8; stream 84 36 x1.6; carboy 100 96 x0.9",
        (
            "bottle 32 46 x0.9; drop 52 46 x0.7; can 80 88 x1.4; lid 80 38 x0.8; moon 118 24 "
            "x0.8; goggles 30 76 x0.7"
        ),
        (
            "microwave 44 88 x1.1; bottle 40 82 x0.7; right 90 66 x0.8; bottle 114 88; clock "
            "114 28 x0.8"
        ),
        "can 32 88 x1.2; pipette 38 44 x0.9; tube 74 88 x1.1; bottle 108 88; goggles 100 24 x0.7",
        (
            "tube 30 88 x1.6; eye 30 20; yes 58 60 x0.8; can 98 88 x1.3; air_line 98 84; "
            "bubbles 106 78 x0.8; bubbles 88 80 x0.8"
        ),
        (
            "tube 18 50; tube 34 50; tube 50 50; right 66 34; can 98 88 x1.3; pipette 92 40 "
            "x0.8; turn 98 66"
        ),
        "can 44 88 x1.4; tag 44 64; pen 64 56; hand 78 48 x0.8",
    ),
    "inoculate": (
        "carboy 26 88; microscope 68 88 x0.9; view 108 36 x0.7; cells 108 36 x0.9; yes 110 78",
        "glove 34 76 x1.1; drop 34 20 x0.8; carboy 94 88 x1.1; up 118 30 x0.8",
        "burner 66 88 x1.1; bottle 28 52; right 48 26; carboy 104 88 x1.1",
        "lamp 66 16 x1.4; carboy 66 88; air_pump 22 88; flow 42 84",
        "carboy 44 88 x1.3; tag 44 68; pen 64 60; hand 78 52 x0.8",
    ),
    "harvest": (
        "carboy 36 88 x1.1; turn 36 66; face 88 48 <",
        "carboy 28 88; pipette 34 52 x0.9; slide 66 88 x0.7; microscope 108 88",
        "carboy 30 66 x1.1; siphon 36 52 x0.9; bucket 94 88 x1.2; tag 94 76 x0.7",
        (
            "can 28 46 x0.8; right 52 26; carboy 74 88 x0.9; or 98 60; carboy 118 88 x0.6; "
            "cover 118 58 x0.5"
        ),
        "shade 66 36 x1.4; box 66 88; thermometer 116 84 x0.9; bottle 20 88 x0.9",
    ),
    "empty a vessel": (
        "carboy 36 48 x0.9; down 66 44; can 92 88 x1.3; drop 66 70 x0.7",
        "carboy 50 88 x1.3; scrubber 62 62; hand 70 52 x0.8",
        "carboy 56 88 x1.2; cover 56 30 x0.8; bottle 112 88; goggles 106 26 x0.7; clock 20 32 x0.8",
        (
            "tube 22 88 x1.3; yes 44 40 x0.8; carboy 92 88; stream 92 14 x1.5; pipe 70 12; "
            "drop 120 60 x0.8"
        ),
        "bench 66 88; bottle 36 43 x1.1 ^; jar 78 55 x1.1 ^; sun 114 28 x0.8",
    ),
    "renew the tubes": (
        "tube 28 88 x1.4; right 54 64 x0.7; microscope 98 88 x1.1",
        "bottle 38 88 x1.2; thermometer 72 82; clock 108 36; drop 108 76 x0.8",
        "burner 66 88 x1.2; tube 34 58 x1.1; tube 104 58 x1.1; left 86 24 x0.8; right 50 24 x0.8",
        "tube 24 88 x1.5; pipette 30 46 x0.9; right 60 52; rack 98 88 x1.1",
        "lamp 66 10 x1.1; rack 56 84 x1.2; bench 66 85; tag 108 70 x0.8; pen 104 52 x0.8",
        "rack 66 42 x0.9; bench 66 43; rack 66 86 x0.9; bench 66 87; calendar 116 30 x0.8",
    ),
    "sow films": (
        (
            "tray 30 88 x0.75; tray 98 88 x0.75; film 98 88 x0.75; film 98 85 x0.75; film 98 "
            "82 x0.75; eye 66 24; down 30 60; no 98 58 x0.8"
        ),
        "pipe 26 30; valve_shut 60 30; hand 66 14 x0.8; tray 66 88 x1.4",
        "beaker 34 38 <; diatoms 66 50 x0.9; tray 66 88 x1.5; film 66 88 x1.5",
        (
            "clock 24 30; right 52 30 x0.8; pipe 82 20; valve 104 20 x0.8; stream 116 22 x1.4; "
            "tray 66 88 x1.5; film 66 88 x1.5"
        ),
    ),
    "settle diatoms": (
        (
            "can 56 88 x1.4; turn 56 66; bottle 20 60 x0.9; goggles 106 22 x0.8; meter 112 88; "
            "drop 34 30 x0.7"
        ),
        "beaker 46 88 x1.9; diatoms 42 82 x0.6; diatoms 54 84 x0.6; clock 108 44 x1.2",
        "beaker 36 80 x1.6; siphon 46 54 x0.85; bucket 96 88 x1.1; diatoms 36 76 x0.6",
        (
            "meter 24 88; right 50 62 x0.8; bucket 86 88 x1.5; diatoms 86 64 x0.8; turn 86 30; "
            "drop 118 40 x0.8"
        ),
        "jar 44 88 x1.7; tag 44 66; moon 100 34; thermometer 104 88 x0.9; turn 44 24",
    ),
}
"""Scenes by kind of work, as `kit.drawing` reads them."""
