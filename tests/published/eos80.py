"""The older equation of state, as an independent oracle of density.

Fofonoff & Millard 1983, UNESCO Tech. Pap. Mar. Sci. 44. Each quantity is a sum over powers of
salinity, each with a table: rows by power of pressure [bar], columns by power of temperature on
the scale of 1968 [°C].
"""

Table = tuple[tuple[float, ...], ...]
Terms = tuple[tuple[float, Table], ...]

WATER: Terms = (
    (0, ((999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9),)),
    (1, ((8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9),)),
    (1.5, ((-5.72466e-3, 1.0227e-4, -1.6546e-6),)),
    (2, ((4.8314e-4,),)),
)
STIFFNESS: Terms = (
    (0, ((19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5),
         (3.239908, 1.43713e-3, 1.16092e-4, -5.77905e-7),
         (8.50935e-5, -6.12293e-6, 5.2787e-8))),
    (1, ((54.6746, -0.603459, 1.09987e-2, -6.1670e-5),
         (2.2838e-3, -1.0981e-5, -1.6078e-6),
         (-9.9348e-7, 2.0816e-8, 9.1697e-10))),
    (1.5, ((7.944e-2, 1.6483e-2, -5.3009e-4), (1.91075e-4,))),
)  # fmt: skip
HEAT: Terms = (
    (0, ((4217.4, -3.720283, 0.1412855, -2.654387e-3, 2.093236e-5),
         (-4.9592e-1, 1.45747e-2, -3.13885e-4, 2.0357e-6, 1.7168e-8),
         (2.4931e-4, -1.08645e-5, 2.87533e-7, -4.0027e-9, 2.2956e-11),
         (-5.422e-8, 2.6380e-9, -6.5637e-11, 6.136e-13))),
    (1, ((-7.64357, 0.1072763, -1.38385e-3),
         (4.9247e-3, -1.28315e-4, 9.802e-7, 2.5941e-8, -2.9179e-10),
         (-2.9558e-6, 1.17054e-7, -2.3905e-9, 1.8448e-11),
         (5.540e-10, -1.7682e-11, 3.513e-13))),
    (1.5, ((0.1770383, -4.07718e-3, 5.148e-5), (-1.2331e-4, -1.517e-6, 3.122e-8), (9.971e-8,),
           (0.0, -1.4300e-12))),
)  # fmt: skip
SOUND: Terms = (
    (0, ((1402.388, 5.03711, -5.80852e-2, 3.3420e-4, -1.47800e-6, 3.1464e-9),
         (0.153563, 6.8982e-4, -8.1788e-6, 1.3621e-7, -6.1185e-10),
         (3.1260e-5, -1.7107e-6, 2.5974e-8, -2.5335e-10, 1.0405e-12),
         (-9.7729e-9, 3.8504e-10, -2.3643e-12))),
    (1, ((1.389, -1.262e-2, 7.164e-5, 2.006e-6, -3.21e-8),
         (9.4742e-5, -1.2580e-5, -6.4885e-8, 1.0507e-8, -2.0122e-10),
         (-3.9064e-7, 9.1041e-9, -1.6002e-10, 7.988e-12),
         (1.100e-10, 6.649e-12, -3.389e-13))),
    (1.5, ((-1.922e-2, -4.42e-5), (7.3637e-5, 1.7945e-7))),
    (2, ((1.727e-3,), (-7.9836e-6,))),
)  # fmt: skip


def summed(terms: Terms, salinity: float, t68: float, pressure_bar: float) -> float:
    """The sum of all terms."""
    return sum(
        salinity**power * pressure_bar**row * t68**column * factor
        for power, table in terms
        for row, factors in enumerate(table)
        for column, factor in enumerate(factors)
    )


def density_kg_m3(salinity: float, t68: float, pressure_dbar: float) -> float:
    """Density [kg/m³]."""
    surface = summed(WATER, salinity, t68, 0.0)
    bar = pressure_dbar / 10
    return surface / (1 - bar / summed(STIFFNESS, salinity, t68, bar))


def heat_capacity_j_kg_k(salinity: float, t68: float, pressure_dbar: float) -> float:
    """Heat capacity [J/(kg K)]."""
    return summed(HEAT, salinity, t68, pressure_dbar / 10)


def sound_m_s(salinity: float, t68: float, pressure_dbar: float) -> float:
    """Speed of sound [m/s]."""
    return summed(SOUND, salinity, t68, pressure_dbar / 10)
