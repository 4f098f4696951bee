"""The sun at a site: sunrise, sunset, civil dusk and day length, as almanacs give them, and the weeks of short days.

Times are civil times in the site's own zone. Days are calendar dates at the site.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from astral import Observer
from astral.sun import dusk, elevation, noon, sunrise, sunset

SHORT_DAY_H = 10.0
"""Below so much day, leaves hardly grow. [h] Source: common practice among winter growers."""

REFRACTION_DEG, HALF_DISC_DEG = 34 / 60, 959.63 / 3600
"""At sunrise and sunset air lifts the sun so much and its upper edge shows; the half disc is that at the mean distance. [°]
Source: almanac convention."""

DUSK_DEG = -6.0
"""Height of the sun's middle at civil dusk. [°]"""

NEARER_IN_JANUARY = 0.0167
"""Eccentricity of the earth's orbit."""

OFF_AT_MOST_S = 720.0
"""A first reckoning takes the sun's place at noon: where it grazes the horizon that is minutes off. [s]"""
CLOSE_S = 2.0
MOST_STEPS = 8

TWO_DAYS = (datetime.timedelta(hours=46), datetime.timedelta(hours=50))
"""Apart so far are two risings (or settings) with one between them."""
HALF_TURN = datetime.timedelta(hours=13)
"""A sunrise belongs to the noon that follows it within half a turn; an hour more than 12 covers the equation of time."""


@dataclass(frozen=True)
class SunDay:
    """One day's sun. Times are None where the sun does not cross that height on this day."""

    on: datetime.date
    sunrise: datetime.datetime | None
    sunset: datetime.datetime | None
    dusk: datetime.datetime | None
    """When it is too dark to work without a lamp: sun 6° below the horizon (civil dusk). None in a night that stays light,
    and on a day that never gets light: `polar` tells which."""
    day_h: float
    """Hours from sunrise to sunset; 24 where the sun does not set, 0 where it does not rise."""
    polar: str | None
    """`day` where the sun stays up, `night` where it stays down, else None."""


def zone(tz: str) -> ZoneInfo:
    """The time zone of that name. Raises ValueError for a name that is none."""
    try:
        return ZoneInfo(tz)
    except (KeyError, ValueError, OSError) as error:
        raise ValueError(f"{tz!r} is no time zone; give one such as Europe/London") from error


def sun_day(lat: float, lon: float, on: datetime.date, tz: str) -> SunDay:
    """The sun on one day.

    lat, lon: degrees, north and east positive. Raises ValueError outside -90..90 and -180..180 and for an unknown zone.
    """
    where, home = _observer(lat, lon), zone(tz)
    middle = _noon(where, datetime.datetime(on.year, on.month, on.day, 12, tzinfo=home))
    rise, down = _span(where, middle)
    dark = _refined(where, _nearest_after(where, middle, dusk), DUSK_DEG)
    if rise is None or down is None:
        day_h = _polar_h(where, middle)
        twilight = None if day_h or dark is None else dark.astimezone(home)
        return SunDay(on, None, None, twilight, day_h, "day" if day_h else "night")
    return SunDay(
        on=on,
        sunrise=rise.astimezone(home),
        sunset=down.astimezone(home),
        dusk=None if dark is None else dark.astimezone(home),
        day_h=(down - rise).total_seconds() / 3600,
        polar=None,
    )


def day_length_h(lat: float, on: datetime.date, lon: float = 0.0) -> float:
    """Hours from sunrise to sunset, 0 to 24. [h] The longitude hardly matters. Raises ValueError outside -90..90."""
    where = _observer(lat, lon)
    clock = datetime.timezone(datetime.timedelta(hours=lon / 15))
    middle = _noon(where, datetime.datetime(on.year, on.month, on.day, 12, tzinfo=clock))
    rise, down = _span(where, middle)
    return _polar_h(where, middle) if rise is None or down is None else (down - rise).total_seconds() / 3600


def daylight_hours(lat: float, day_of_year: int) -> float:
    """Hours the middle of the sun is geometrically above the horizon, as evaporation sums want them. [h]

    lat: degrees. day_of_year: 1 to 366. A quarter of an hour shorter than the almanac's day at 53°.
    Source: FAO Irrigation and Drainage Paper 56, equations 24, 25 and 34. Raises ValueError outside -90..90.
    """
    if not -90 <= lat <= 90:
        raise ValueError(f"lat={lat}, expected -90..90")
    declination = 0.409 * math.sin(2 * math.pi * day_of_year / 365 - 1.39)
    cosine = -math.tan(math.radians(lat)) * math.tan(declination)
    return 24 / math.pi * math.acos(max(-1.0, min(1.0, cosine)))


def short_days(lat: float, lon: float, year: int, under_h: float = SHORT_DAY_H) -> list[tuple[datetime.date, datetime.date]]:
    """The spans of days shorter than so many hours, first and last day of each, within a calendar year.

    In the north these are two spans, one at each end of the year; in the south one about midsummer's opposite; none near
    the equator.
    """
    spans: list[tuple[datetime.date, datetime.date]] = []
    day = datetime.date(year, 1, 1)
    while day.year == year:
        if day_length_h(lat, day, lon) < under_h:
            if spans and spans[-1][1] == day - datetime.timedelta(days=1):
                spans[-1] = (spans[-1][0], day)
            else:
                spans.append((day, day))
        day += datetime.timedelta(days=1)
    return spans


def short_day_weeks(lat: float, lon: float, year: int, under_h: float = SHORT_DAY_H) -> list[int]:
    """ISO weeks of a year whose middle day (Thursday) is shorter than so many hours."""
    thursdays = [datetime.date.fromisocalendar(year, week, 4) for week in range(1, _weeks_in(year) + 1)]
    return [day.isocalendar().week for day in thursdays if day_length_h(lat, day, lon) < under_h]


def _weeks_in(year: int) -> int:
    return datetime.date(year, 12, 28).isocalendar().week


def _observer(lat: float, lon: float) -> Observer:
    if not -90 <= lat <= 90 or not -180 <= lon <= 180:
        raise ValueError(f"lat={lat}, lon={lon}, expected -90..90 and -180..180")
    # At the very pole the sun's hour angle has no meaning; a step away it is polar day or night all the same.
    return Observer(latitude=max(-89.8, min(89.8, lat)), longitude=lon)


def _noon(where: Observer, midday: datetime.datetime) -> datetime.datetime:
    """The sun's noon nearest to midday by the clock, in UTC, where it may lie on another date."""
    date = midday.astimezone(datetime.UTC).date()
    days = (date + datetime.timedelta(days=step) for step in (-1, 0, 1))
    return min((noon(where, date=day) for day in days), key=lambda moment: abs(moment - midday))


def _span(where: Observer, middle: datetime.datetime) -> tuple[datetime.datetime | None, datetime.datetime | None]:
    """Sunrise before a noon and sunset after it."""
    height = _rise_deg(middle)
    return _refined(where, _nearest_before(where, middle), height), _refined(
        where, _nearest_after(where, middle, sunset), height
    )


def _rise_deg(moment: datetime.datetime) -> float:
    """Height of the sun's middle when its upper edge shows. [°] The disc is largest in the first days of January."""
    days = moment.timetuple().tm_yday - 4
    return -REFRACTION_DEG - HALF_DISC_DEG / (1 - NEARER_IN_JANUARY * math.cos(2 * math.pi * days / 365.25))


def _refined(where: Observer, near: datetime.datetime | None, height_deg: float) -> datetime.datetime | None:
    """The moment about there at which the sun stands so high, with its own place at that very moment.

    As it came where the sun does not cross that height about there.
    """
    if near is None:
        return None

    def over(seconds: float) -> float:
        return elevation(where, near + datetime.timedelta(seconds=seconds), with_refraction=False) - height_deg

    # by the secant: a minute apart at first, then where the line through both heights crosses
    before, at = 0.0, 60.0
    low, high = over(before), over(at)
    for _ in range(MOST_STEPS):
        if high == low:
            return near
        before, at, low = at, at - high * (at - before) / (high - low), high
        if abs(at) > OFF_AT_MOST_S:
            return near
        if abs(at - before) < CLOSE_S:
            break
        high = over(at)
    return near + datetime.timedelta(seconds=at)


def _polar_h(where: Observer, middle: datetime.datetime) -> float:
    return 24.0 if elevation(where, middle, with_refraction=False) > _rise_deg(middle) else 0.0


def _moments(where: Observer, middle: datetime.datetime, event: Callable[..., datetime.datetime]) -> list[datetime.datetime]:
    """The event on the dates around a noon; a date on which it does not happen gives none."""
    found: list[datetime.datetime] = []
    for step in (-1, 0, 1):
        try:
            found.append(event(where, date=middle.date() + datetime.timedelta(days=step)))
        except ValueError:
            continue
    return found


def _nearest_before(where: Observer, middle: datetime.datetime) -> datetime.datetime | None:
    near = _between(_moments(where, middle, sunrise), middle - HALF_TURN, middle)
    return max(near, default=None)


def _nearest_after(
    where: Observer, middle: datetime.datetime, event: Callable[..., datetime.datetime]
) -> datetime.datetime | None:
    near = _between(_moments(where, middle, event), middle, middle + HALF_TURN)
    return min(near, default=None)


def _between(moments: list[datetime.datetime], begin: datetime.datetime, end: datetime.datetime) -> list[datetime.datetime]:
    """The moments of a span. On a date of UTC that has an event twice, just after its midnight and just before the next, only
    one of the two is told: the other lies halfway between its neighbours."""
    near = [moment for moment in moments if begin <= moment <= end]
    before, after = [one for one in moments if one < begin], [one for one in moments if one > end]
    if not near and before and after and TWO_DAYS[0] <= min(after) - max(before) <= TWO_DAYS[1]:
        near = [max(before) + (min(after) - max(before)) / 2]
    return near
