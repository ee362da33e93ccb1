"""Networks made up for the tests: generated ones of any shape, and a small one told in full."""

from dataclasses import replace

import numpy as np

from protoconch.waterworks.hydraulics.pipes import pipe_size, pipe_sizes
from protoconch.waterworks.hydraulics.pumps import PumpCurve
from protoconch.waterworks.network.parts import (
    Cartridge,
    Network,
    Part,
    Pipe,
    Place,
    Pump,
    Uv,
    Valve,
)
from protoconch.waterworks.treatment.cartridges import stage
from protoconch.waterworks.treatment.uv import Lamp
from protoconch.waterworks.water import Water, water_at

SEA_28: Water = water_at(28.0, 35.0)
CURVE = PumpCurve(((0, 25), (60, 20), (120, 8)))


def generated(parts: int, seed: int) -> Network:
    """A pump, a tree of joints, more pipes across it, and valves to tanks; some parts shut."""
    rng = np.random.default_rng(seed)
    sizes = pipe_sizes("pvc-sch40")
    joints = max(2, parts * 2 // 3)
    places = [Place("store", "reservoir", 2.0)]
    places += [Place(f"j{j}", "joint", float(rng.uniform(0, 2))) for j in range(joints)]
    made: list[Part] = [Pump(name="pump", start="store", end="j0", curve=CURVE, inlet_height_m=0.0)]
    made += [
        Pipe(
            name=f"tree {j}",
            start=f"j{int(rng.integers(max(0, j - 6), j))}",
            end=f"j{j}",
            size=sizes[int(rng.integers(0, 9))],
            length_m=float(rng.uniform(0.1, 50)),
            fittings={"elbow": int(rng.integers(0, 5))},
            check_valve=bool(rng.random() < 0.1),
        )
        for j in range(1, joints)
    ]
    while len(made) < parts:
        k = len(made)
        if rng.random() < 0.6 and joints > 1:
            one, two = (int(j) for j in rng.choice(joints, 2, replace=False))
            made.append(
                Pipe(
                    name=f"across {k}",
                    start=f"j{one}",
                    end=f"j{two}",
                    size=sizes[int(rng.integers(0, 9))],
                    length_m=float(rng.uniform(0.1, 50)),
                    shut=bool(rng.random() < 0.1),
                )
            )
        else:
            places.append(Place(f"tank {k}", "tank", float(rng.uniform(0, 3))))
            made.append(
                Valve(
                    name=f"valve {k}",
                    start=f"j{int(rng.integers(0, joints))}",
                    end=f"tank {k}",
                    size=sizes[int(rng.integers(0, 4))],
                    k=float(10 ** rng.uniform(-1, 4)),
                )
            )
    return Network(tuple(places), tuple(made), SEA_28)


def small() -> Network:
    """A store, a pump, two stages, a lamp with a shut way around it, and two tanks."""
    size = pipe_size("pvc-sch40", 1.5)
    return Network(
        (
            Place("store", "reservoir", 2.0), Place("a", "joint", 0.5), Place("b", "joint", 0.5),
            Place("c", "joint", 0.5), Place("d", "joint", 0.5), Place("e", "joint", 1.0),
            Place("larvae", "tank", 1.5, 10.0), Place("nursery", "tank", 1.0),
        ),
        (
            Pump(name="pump", start="store", end="a", inlet_height_m=0.3,
                 curve=PumpCurve(((20, 22), (50, 20), (80, 15), (110, 7)))),
            Cartridge(name="25 µm", start="a", end="b", stage=stage(25, 4), rating_kpa=690),
            Cartridge(name="5 µm", start="b", end="c", stage=stage(5, 4), rating_kpa=690),
            Uv(name="lamp", start="c", end="d", lamp=Lamp(45, 30, 90, 0.8, 0.9, 0.7), size=size,
               k=3.0),
            Valve(name="way around", start="c", end="d", size=size, k=0.1, shut=True),
            Pipe(name="main", start="d", end="e", size=size, length_m=12, fittings={"elbow": 4}),
            Valve(name="larvae valve", start="e", end="larvae", size=pipe_size("pvc-sch40", 0.75),
                  k=200),
            Valve(name="nursery valve", start="e", end="nursery", k=300,
                  size=pipe_size("pvc-sch40", 1)),
        ),
        SEA_28,
    )  # fmt: skip


def changed(network: Network, which: str, /, **new: object) -> Network:
    """The network with some fields of one part changed."""
    return replace(
        network,
        parts=tuple(
            replace(part, **new) if part.name == which else part  # type: ignore[arg-type]
            for part in network.parts
        ),
    )


def one_line(nominal: float, *, length: float = 30.0, flow_l_min: float = 68.0) -> Network:
    """A pump that pushes nearly the same flow, whatever it meets, through one line to one tank."""
    return Network(
        (Place("store", "reservoir", 1.0), Place("a", "joint", 0.5), Place("tank", "tank", 1.0)),
        (
            Pump(name="pump", start="store", end="a", inlet_height_m=0.5,
                 curve=PumpCurve(((0.9 * flow_l_min, 40), (1.1 * flow_l_min, 0.1)))),
            Pipe(name="line", start="a", end="tank", size=pipe_size("pvc-sch40", nominal),
                 length_m=length),
        ),
        SEA_28,
    )  # fmt: skip
