"""Seed lists as households keep them: good rows, bad rows, and crops under other names."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.calendars.read import read_calendars
from server.season.seed_list import SeedList, SeedRow, UnknownCrop, near_crops, read_seed_list

CROPS = read_calendars().crops


def read(text: str, answers: dict[str, str] | None = None) -> SeedList:
    return read_seed_list(text.encode(), CROPS, answers)


@pytest.mark.parametrize(
    "text",
    [
        "variety,crop,germination %,seeds,weight g\nRed Ruth,tomato,85,40,0.15\n",
        "Crop;Variety;Germ. (%);Weight (g);Number of seeds\nTomatoes;Red  Ruth;85;0,15;40\n",
        "our seeds\n\nKind\tName\tViability\tPacket\tWeight\nSolanum lycopersicum\tRed Ruth\t85 %\tabout 40 seeds\t0.15 g\n",
        "crop,variety,germination,count,weight\nTOMATO,Red Ruth,85%,~40,150 mg\n",
    ],
)
def test_the_same_packet_in_many_hands(text: str) -> None:
    found = read(text)
    assert [(row.variety, row.crop, row.germination_pct, row.seeds, row.weight_g) for row in found.good] == [
        ("Red Ruth", "tomato", 85, 40, 0.15)
    ]
    assert found.bad == [] and found.unknown == [] and found.problem is None


def test_what_a_packet_does_not_say_stays_unsaid() -> None:
    assert read("crop,variety\nsweet pepper,Wide Boy\nSweet_Pepper,Tall Boy\n").good == [
        SeedRow(2, "Wide Boy", "sweet_pepper"),
        SeedRow(3, "Tall Boy", "sweet_pepper"),
    ]


BAD = [
    ("tomato,,85,40", "no variety"), (",Red Ruth,85,40", "no crop"), ("tomato,Red Ruth,850,40", "850"),
    ("tomato,Red Ruth,0.85,40", "0.85"), ("tomato,Red Ruth,most,40", "most"), ("tomato,Red Ruth,85,0", "'0'"),
    ("tomato,Red Ruth,85,lots", "lots"), ("tomato,Early Nan,85,40", "line 2"), ("tomato,Red, Ruth,85,40", "quotation"),
    ("trifid,Red Ruth,85,40", "no crop is called"), ("tomato," + "x" * 121 + ",85,40", "121 letters"),
]  # fmt: skip


@pytest.mark.parametrize(("row", "why"), BAD)
def test_bad_rows_are_listed_and_the_good_ones_stay_whole(row: str, why: str) -> None:
    found = read(f"crop,variety,germination,seeds\ntomato,Early Nan,90,30\n{row}\nleek,Long Tom,80,200\n")
    assert [good.variety for good in found.good] == ["Early Nan", "Long Tom"]
    assert [bad.line for bad in found.bad] == [3] and why in found.bad[0].why


def test_unknown_crops_come_with_near_names_and_can_be_answered() -> None:
    text = "crop,variety\ntomatoe,A\nbroad beans,B\nbeans,C\ntomatoe,D\nqzx,E\n"
    found = read(text)
    assert [row.crop for row in found.good] == ["broad_bean"]
    assert found.unknown[0] == UnknownCrop("tomatoe", (2, 5), found.unknown[0].near) and found.unknown[0].near[0] == "tomato"
    beans = next(unknown for unknown in found.unknown if unknown.name == "beans")
    assert set(beans.near) == {"broad_bean", "french_bean", "runner_bean"}
    assert next(unknown for unknown in found.unknown if unknown.name == "qzx").near == ()
    assert [bad.line for bad in found.bad] == [2, 4, 5, 6]
    answered = read(text, {"tomatoe": "tomato", "Beans": "runner_bean", "qzx": "no_such_crop"})
    assert [(row.variety, row.crop) for row in answered.good] == [
        ("A", "tomato"), ("B", "broad_bean"), ("C", "runner_bean"), ("D", "tomato"),
    ]  # fmt: skip
    assert [unknown.name for unknown in answered.unknown] == ["qzx"]


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_every_crop_is_known_by_each_of_its_names_and_found_when_misspelt(crop: str) -> None:
    table = CROPS[crop]
    names = [crop, table["one"], table["many"].upper(), table["one"].title()]
    found = read("crop,variety\n" + "".join(f"{name},variety {n}\n" for n, name in enumerate(names)))
    assert [row.crop for row in found.good] == [crop] * 4
    longest = max(table["one"], table["many"], key=len)
    assert crop in near_crops(longest[:-1] + longest[-1] * 2, CROPS)


@pytest.mark.parametrize(
    ("cell", "seeds"), [("1,000", 1000), ("1.000", 1000), ("1 000", 1000), ("25", 25), ("1.5", None), ("12,34", None)]
)
def test_thousands_are_read_and_halves_of_seeds_refused(cell: str, seeds: int | None) -> None:
    found = read(f'crop,variety,seeds\nleek,A,"{cell}"\n')
    assert [row.seeds for row in found.good] == ([] if seeds is None else [seeds])
    assert len(found.bad) == (seeds is None)


@pytest.mark.parametrize(
    ("cell", "grams"),
    [("2", 2.0), ("0,5", 0.5), ("1 kg", 1000.0), ("1 oz", 28.35), ("-1", None), ("heavy", None), ("99 kg", None)],
)
def test_weights_are_grams_unless_they_say_otherwise(cell: str, grams: float | None) -> None:
    found = read(f'crop,variety,weight\nleek,A,"{cell}"\n')
    assert [row.weight_g for row in found.good] == ([] if grams is None else [grams])


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "empty"), ("colour,size\nred,big\n", "variety and a crop"), ("crop,variety\n", "no rows"), ("%PDF-1", "PDF")],
)
def test_a_file_that_is_no_seed_list_is_said_plainly(text: str, says: str) -> None:
    found = read(text)
    assert found.good == [] and found.problem is not None and says in found.problem


@given(st.binary(max_size=300))
def test_no_bytes_make_it_fail(data: bytes) -> None:
    found = read_seed_list(b"crop,variety,seeds,weight\n" + data, CROPS)
    assert found.problem or found.good or found.bad


@given(
    st.lists(
        st.tuples(
            st.text("abcdefg '-,;\"éü", min_size=1, max_size=20).filter(lambda name: name.strip()),
            st.sampled_from(sorted(CROPS)),
            st.integers(1, 100),
            st.integers(1, 5000),
        ),
        min_size=1,
        max_size=12,
        unique_by=lambda row: " ".join(row[0].split()).casefold(),
    ),
    st.sampled_from(",;\t"),
)
def test_what_the_standard_writer_writes_is_read_back(rows: list[tuple[str, str, int, int]], separator: str) -> None:
    """Written by the standard library's csv writer."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator)
    writer.writerow(["variety", "crop", "germination %", "seeds"])
    writer.writerows(rows)
    found = read(out.getvalue())
    assert [(row.variety, row.crop, row.germination_pct, row.seeds) for row in found.good] == [
        (" ".join(name.split()), crop, pct, seeds) for name, crop, pct, seeds in rows
    ]
    assert found.bad == []
