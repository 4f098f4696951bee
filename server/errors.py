"""The errors of the server.

MudproofError           anything that is told: to the grower (`say`) and to the engineer (`detail`)
|-- BadRequest          the request as a whole makes no sense (400)
|-- NotFound            what was asked for is not there (404)
|-- NotJoined           a phone that has not joined, or was turned out (401)
|-- TooManyTries        wait a minute (429)
|-- NotAllowed          a write from another site, or an unknown host (403)
|-- TooLarge            over a stated limit (413)
|-- TooBusy             past a deadline; try again later (503)
|-- StoreError          the data directory cannot be used, or not now (503)
|   `-- DiskFull        nothing was written because there is no room (507)
|-- CalendarError       a crop calendar that cannot be read (500)
`-- SettingsError       the server was started with something it cannot do
"""

from __future__ import annotations


class MudproofError(Exception):
    """Carries both texts; handlers choose."""

    status = 500

    def __init__(self, say: str, detail: str = "") -> None:
        super().__init__(f"{say} [{detail}]" if detail else say)
        self.say = say
        self.detail = detail or say


class BadRequest(MudproofError):
    """The request as a whole makes no sense."""

    status = 400


class NotFound(MudproofError):
    """What was asked for is not there."""

    status = 404


class NotJoined(MudproofError):
    """A phone that has not joined this household, or was turned out of it."""

    status = 401


class TooManyTries(MudproofError):
    """More tries than a person makes; the caller has to wait."""

    status = 429


class NotAllowed(MudproofError):
    """A write from another site, or a host this server does not answer for."""

    status = 403


class TooLarge(MudproofError):
    """Over a stated limit."""

    status = 413


class TooBusy(MudproofError):
    """What was asked for takes too long to work out just now."""

    status = 503


class StoreError(MudproofError):
    """The data directory cannot be used."""

    status = 503


class DiskFull(StoreError):
    """Nothing was written because there is no room."""

    status = 507


class CalendarError(MudproofError):
    """A crop calendar that cannot be read: names file, place and mend."""


class SettingsError(MudproofError):
    """The server was started with something it cannot do."""
