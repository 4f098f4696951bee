"""A digest of many records: the same in both halves for the same records, however each came by them.

It is kept up to date record by record, so that two stores can be compared at each exchange for next to nothing. It is no
proof against whoever would deceive; it finds what our own mistakes, and damaged disks, would leave different.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass

from server.kernel.read.merge import Record, field_stamps, text

_WORD = 0xFFFFFFFF


@dataclass(frozen=True)
class Digest:
    """How many records, and the sum of their marks, modulo 2**32."""

    count: int = 0
    sum: int = 0

    def moved(self, before: int | None, after: int | None) -> Digest:
        """The digest once a record with one mark has another; None for a record that is not there."""
        count = self.count + (after is not None) - (before is not None)
        return Digest(count, (self.sum + (after or 0) - (before or 0)) & _WORD)

    def __str__(self) -> str:
        """As it travels."""
        return f"{self.count}-{self.sum:08x}"


def mark(record: Record) -> int:
    """One record's part: CRC-32 (ISO 3309) of all it says and when, its bits mixed so that two like changes do not cancel.

    The mixing is the finishing step of MurmurHash3 by Austin Appleby, which is in the public domain.
    """
    stamps = field_stamps(record)
    said = "".join(f"{name}\t{stamps[name]}\t{text(record['fields'][name])}\n" for name in sorted(stamps))
    bits = zlib.crc32(f"{record['id']}\n{record['kind']}\n{said}".encode("utf-8", "surrogatepass"))
    bits = ((bits ^ (bits >> 16)) * 0x85EBCA6B) & _WORD
    bits = ((bits ^ (bits >> 13)) * 0xC2B2AE35) & _WORD
    return bits ^ (bits >> 16)
