"""Plans of many shapes, for claims that must hold for all of them."""

from hypothesis import strategies as st

from tests.work.made_up_plan import Shape, made_up_plan

TANKS = st.lists(
    st.sampled_from([("large", n, 400.0) for n in range(1, 7)]
                    + [("small", n, 200.0) for n in range(1, 5)]),
    min_size=1, max_size=4, unique=True,
)  # fmt: skip

SHAPES = st.builds(
    Shape,
    start=st.integers(0, 60),
    incubation=st.integers(1, 6),
    larval=st.integers(3, 35),
    on_trays=st.integers(2, 60),
    nursery=st.integers(1, 90),
    masses=st.integers(1, 12),
    trays=st.integers(1, 12),
    tanks=TANKS.map(tuple),
)

REGIMES = {
    "queen-conch": ("well_fed", "trial"),
    "fighting-conch": (None,),
    "milk-conch": (None,),
    "west-indian-top-shell": (None,),
}


@st.composite
def plans(draw, species=tuple(REGIMES)):
    """A plan of one to three batches of one of these species."""
    key = draw(st.sampled_from(species))
    shapes = draw(st.lists(SHAPES, min_size=1, max_size=3))
    return made_up_plan(*shapes, species=key, regime=draw(st.sampled_from(REGIMES[key])))
