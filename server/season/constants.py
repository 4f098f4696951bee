"""Numbers of growing that belong to no single crop, each with its unit and source."""

from __future__ import annotations

NIGHT_GAIN_C = {"open": 0.0, "frame": 1.0, "tunnel": 1.0, "glass": 2.0}
"""Night minimum under an unheated cover over the night outside. [°C] Source: Savage 1980, Agrochemophysica 12:5-13
(single plastic tunnel +1.3 on average); planning values rounded down, glass and frame from memory."""

DAY_GAIN_C = {"open": 0.0, "frame": 3.0, "tunnel": 4.0, "glass": 5.0}
"""Day maximum under cover over the day outside. [°C] Source: Savage 1980 (tunnel +4.2); glass and frame from memory."""

INDOORS_C = (14.0, 19.0)
"""Night and day of a lived-in room. [°C] From memory."""

FROST_SPREAD_C = 5.0
"""How far the coldest night of a spring fortnight lies under the mean minimum. [°C] From memory."""

FROST_REACH_C = 2.1
FROST_REACH_OF_NIGHT = 0.2
FROST_REACH_OF_YEAR = 0.11
"""Mean night minimum on the day that the last (first) frost passes in one year of ten: so much, and so much of the warmest
night of the year and of the range between its warmest and coldest daily mean. [°C, °C of each °C] Source: fitted by least
squares to ten daily series of 28 to 37 years (tests/season/frost_years.toml): 5 to 6 °C in England, 6 in Belgium, 7 to 8 in
Nebraska and inland Argentina, 8.5 in South Carolina; 0.2 °C more than the fit, for the safe side."""

GROWTH_C = 5.0
"""Daily mean under which plants in the open hardly grow. [°C] Source: growing season as meteorological services define it,
from five days above 5 °C to five days below."""

SURE = 0.95
"""How sure a sowing should be to bring the plants that are wanted."""

MOST_PLANTS_IN_TABLE = 120

DEFAULT_NORMALS = (
    (1.8, 7.4), (1.7, 8.0), (2.9, 10.5), (4.4, 13.2), (7.2, 16.4), (10.0, 19.1),
    (12.1, 21.6), (12.0, 21.3), (9.9, 18.4), (7.2, 14.2), (4.2, 10.2), (2.1, 7.6),
)  # fmt: skip
"""Monthly mean minimum and maximum of a lowland site at 53 N, for a household that has not said where it is. [°C]
From memory, of the order of the 1991-2020 normals of the English midlands."""

DEFAULT_SITE = {"lat": 53.0, "last_frost": "05-12", "first_frost": "10-15"}
"""Source: consumer gardening guides for lowland Britain at 53 N: last frost mid May, first mid October."""

SETTLING = 1.15
"""Compost settles: so much more than the pot's litres. Source: container volume tables, 15 to 20 %."""

WINTER_SPREAD_C = 9.0
"""How far the coldest night of a winter lies under the mean minimum of its coldest month. [°C] From memory: hardiness zones are
the mean of yearly extremes, 9 °C under January's mean minimum in England, 12 °C and more far inland."""
