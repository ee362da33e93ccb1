"""A small answer of the algae room for pictures and pages; the room is the invented one."""

from datetime import date
from functools import cache

import numpy as np

from protoconch.algae.chain.answer import chain_answer
from protoconch.algae.chain.sureness import dice_for
from protoconch.algae.demand import TankFood, food_demand
from protoconch.hatchery.algae_vessels import demo_algae_room

FIRST = date(2027, 4, 1)


@cache
def small_answer(scale=1.0, days=45, lead=23):
    """scale: grams of each feeding day; enough of it starves the room."""
    room = demo_algae_room()
    food = [TankFood(day, "tank 1", "A", day - lead, {"t-iso": 0.3 * scale,
            "c-muelleri": 0.2 * scale}) for day in range(lead, days)]  # fmt: skip
    food += [TankFood(day, "trays of batch B", "B", 40, {"navicula": 0.05}, trays=True)
             for day in range(30, days)]  # fmt: skip
    demand = food_demand(food, ("t-iso", "c-muelleri", "navicula"), FIRST, days)
    dice = dice_for(room.room, days, 10, np.random.default_rng(1))
    return chain_answer(room.room, demand, dice, days_fed=0.5, no_start=(6,), effort=0.2)
