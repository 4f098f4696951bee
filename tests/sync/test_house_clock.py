"""What time it is for a household of which any one clock may be wrong: the middle of all of them.

That the middle of 2f + 1 clocks lies between two right ones while at most f are wrong is the ground of fault-tolerant clock
averaging (Lamport and Melliar-Smith 1985, "Synchronizing Clocks in the Presence of Faults"; from memory).
"""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from server.sync.house_clock import ASTRAY_MS, HEARD_FOR_MS, MOST_VOICES, HouseClock

NOW = 1_900_000_000_000
DAY = 86_400_000
SMALL = st.integers(-60_000, 60_000)
ANY = st.integers(-NOW, NOW)


def household(*ahead: int, now: int = NOW) -> HouseClock:
    """Phones so many ms ahead of the server."""
    clock = HouseClock()
    for number, ms in enumerate(ahead):
        clock.hear(f"phone{number}", now + ms, now)
    return clock


def test_alone_the_server_says_and_of_two_the_server_too() -> None:
    assert HouseClock().ms(NOW, 0) == NOW
    assert household(2 * DAY).ms(NOW, 0) == NOW


def test_one_wrong_clock_of_three_is_outvoted_whichever_it_is() -> None:
    assert household(2 * DAY, 500).ms(NOW, 0) == NOW + 500
    assert household(3 * DAY, 3 * DAY + 100).ms(NOW, 0) == NOW + 3 * DAY, "the server is three days behind"


def test_of_two_the_one_that_is_not_behind_what_was_stamped() -> None:
    """A board without a battery begins in the past, and what it has taken before says so."""
    assert household(3 * DAY).ms(NOW, NOW + 3 * DAY - 1) == NOW + 3 * DAY
    assert household().ms(NOW, NOW + 3 * DAY) == NOW, "with nobody else to ask"
    assert household(3 * DAY).ms(NOW, NOW + ASTRAY_MS) == NOW, "an hour is no proof"
    assert household(-40 * DAY).ms(NOW, NOW + 4000 * DAY) == NOW, "a stamp from far ahead proves nothing of either"


@given(st.lists(SMALL, min_size=1, max_size=5), st.data())
def test_less_than_half_of_wrong_clocks_move_it_nowhere(right: list[int], data: st.DataObject) -> None:
    """right: the phones that are; the server is right too, so that they are one more."""
    wrong = data.draw(st.lists(ANY, max_size=len(right)))
    found = household(*data.draw(st.permutations([*right, *wrong]))).ms(NOW, 0) - NOW
    assert min(0, *right) <= found <= max(0, *right)


def test_a_phone_has_one_voice_and_loses_it_in_time() -> None:
    clock = household(DAY, DAY)
    for _ in range(5):
        clock.hear("phone0", NOW, NOW)
    assert clock.ms(NOW, 0) == NOW
    later = NOW + HEARD_FOR_MS + DAY
    clock.hear("phone1", later + DAY, later)
    assert clock.ms(later, 0) == later, "of two the server's: the other was not heard for a fortnight"
    for number in range(3 * MOST_VOICES):
        clock.hear(f"other{number}", later, later)
    assert len(clock._voices) == MOST_VOICES
