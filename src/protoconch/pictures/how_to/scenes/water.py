"""Scenes for the work around the water, one for each step."""

WATER: dict[str, tuple[str, ...]] = {
    "fill the reservoir": (
        "waves 66 74; up 30 50; cloud 92 26; rain 92 28; no 92 30 x1.3; eye 32 26",
        "strainer 34 66 x1.3; pipe 92 66; hand 60 30 x0.9; eye 34 26",
        "pump 34 68; hose 68 43 x1.2; drop 97 86 x0.9",
        "bucket 34 88 x1.2; meter 82 88; probe 40 64; thermometer 112 86",
        "reservoir 52 86; stream 52 4 x1.6; pipe 24 8 x0.9; person 114 88",
        "switch_off 26 62 x1.4; valve_shut 70 66; reservoir 110 88 x0.5; eye 110 30 x0.9",
    ),
    "read the water": (
        "beaker 36 88 x1.3; probe 36 68 x1.1; drop 80 40; drop 96 52 x0.7; meter 110 88 x0.9",
        "basin 48 88; probe 42 80 x1.2; meter 84 42; clock 116 66",
        "tube 30 90 x1.4; dropper_bottle 30 36 x0.95; tube 66 88 x1.5; tube 102 88 x1.5",
        "clock 22 40; tube 54 88 x1.5; chart 98 88 x1.5; sun 24 78 x0.6",
        (
            "pipe 24 66; housing 66 93 x0.85; gauge 22 48; needle_high 22 48; gauge 110 48; "
            "needle_low 110 48; pipe 110 66"
        ),
        "log 66 88 x1.4; pen 74 60; meter 18 88; tube 116 88 x1.3",
    ),
    "change a cartridge": (
        (
            "pipe 22 64; pipe 110 64; housing 66 93 x0.88; gauge 20 48; needle_high 20 48; "
            "gauge 112 48; needle_low 112 48"
        ),
        (
            "switch_off 20 40 x1.2; plug 30 78; housing 80 92 x0.8; valve_shut 46 54 x0.8; "
            "valve_shut 116 54 x0.8"
        ),
        "housing 50 92; gauge 104 48 x1.3; needle_low 104 48 x1.3; up 50 22; spark 50 28",
        "head 50 24; bowl 50 76 x0.9; down 80 44; cartridge 104 56; bucket 50 100 x0.9",
        "bowl 40 84 x1.2; scrubber 44 48; cloth 102 72; view 102 32 x0.5; view 102 32 x0.38",
        "head 50 26; up 50 44 x0.8; cartridge 50 92 x0.85; turn 102 40; bowl 102 92 x0.9",
        (
            "pipe 20 40; valve 24 40; housing 70 92; gauge 116 44; needle_mid 116 44; drop 106 "
            "84 x0.6; eye 34 74"
        ),
    ),
    "change a lamp": (
        "pipe 30 60; valve_shut 66 60 x1.3; pipe 102 60; larvae 112 30; hand 74 38",
        "switch_off 22 60 x1.3; socket 60 46; plug 84 46; lock 104 84",
        "clock 28 40; glove 66 82; goggles 106 44",
        "uv_unit 40 40 x0.7; uv_lamp 82 36 x0.8; right 112 60; can 108 92 x0.6",
        "sleeve 56 56 x1.3; cloth 64 48; hand 78 40",
        (
            "cloth 100 52; uv_lamp 70 52; glove 114 86 x0.6; uv_unit 30 70 x0.6; left 66 78 "
            "x0.8; hand 104 48 x0.8"
        ),
        (
            "uv_unit 66 48 x0.85; plug 26 82 <; bolt 100 78; flow 66 20; eye 118 20 x0.7; no "
            "118 20 x0.8"
        ),
    ),
    "clean a tank": (
        "tank_empty 44 88 x1.2; eye 44 38; snail 104 74; no 104 70",
        "tank_empty 44 88 x1.2; scrubber 58 46; hand 68 38 x0.9; air_line 112 84 x0.8",
        "tank 48 88 x1.1; lid 48 24; bottle 108 88; goggles 108 32 x0.7; moon 16 30 x0.7",
        "tank 32 88 x0.9; dropper_bottle 32 30 x0.7; tube 78 88 x1.5; eye 78 26 x0.9; yes 110 64",
        "tank_empty 40 88; stream 40 8 x1.6; right 72 52 x0.8; sun 106 30; bench 66 88",
    ),
    "power is out": (
        "person 28 88 x1.1; torch 56 52; socket 104 46; drop 84 66 x0.7; no 104 46 x1.2",
        "hand 58 26 x0.9; pellets 52 44; floor 52 88 x0.9; no 112 52",
        (
            "battery 24 88; air_pump 62 88 x0.9; tank 104 88; air_line 104 74 x0.9; bubbles "
            "112 66 x0.8; larvae 98 50 x0.6"
        ),
        "switch_off 28 70 x1.7; uv_unit 88 34 x0.6; thermometer 96 88 x0.9; left 54 60 x0.8",
        "tank 32 88; probe 36 58; meter 76 88; clock 112 38; log 114 96 x0.8",
        (
            "bolt 14 34 x0.9; pump 46 46 x0.85; right 82 32 x0.7; tank 110 62 x0.75; eye 24 80 "
            "x0.7; uv_unit 82 84 x0.6"
        ),
    ),
}
"""Scenes by kind of work, as `kit.drawing` reads them."""
