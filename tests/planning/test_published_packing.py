"""Published instances of cutting stock and bin packing, whose optimum is known, through our own
packing. They know no hands and no saw cut.

An optimum marked as proven here was proven by column generation outside the project: its bound and
a whole solution meet.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from published import READ, published

from dxf2veneer.planning.cutting_stock.packing import CutPart, lower_bound, pack

STAGE = "cutting stock"
FALKENAUER = "Falkenauer, Journal of Heuristics 2 (1996)"
SCHOLL = "Scholl, Klein, Jürgens, Computers & Operations Research 24 (1997)"
PROVEN = "instance read in a copy; optimum proven here"

T60_00 = """495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366x3 363 361 357 355
351 350x2 347 320 315 307 303 299 298x2 292 288 287 283 275x2 274 273x2 272x2 271 269x2 268 263 262
261 259 258 255 254 252x3 251"""
T120_00 = """497x2 495 485 480 478 474 473 472 470 466 450 446 445x2 444 439 434 430 420 419 414
412 410 407 405 400 397 395 376 372 370 366x5 363x2 362 361 357x2 356x2 355 352 351 350x3 347 336
333 329 325 320 315 314 313 307 303 302 301 299 298x3 295 294 292 290 288 287 283 282x2 276 275x2
274 273x2 272x2 271x2 269x2 268 267x2 266 263x2 262x2 261 260 259x3 258 256 255 254x3 253x4 252x4
251x2 250x2"""
HARD0 = """34978 34849 34703 34608 34598 34524 34356 34308 34069 34049 33895 33842 33806 33738
33716 33590 33546 33507 33468 33465 33383 33190 33075 32976 32897 32762 32696 32638 32553 32398
32230 32176 31967 31954 31903 31782 31724 31686 31597 31561 31532 31499 31346 30943 30915 30869
30766 30683 30678 30644 30559 30448 30315 30238 30125 29974 29947 29890 29886 29858 29856 29783
29697 29438 29427 29301 29174 29173 29123 29117 29116 29095 29094 29063 29041 29038 28977 28946
28921 28910 28842 28703 28360 28350 28305 28302 28225 28160 28094 28040 28020 27901 27775 27765
27688 27439 27425 27394 27365 27349 27284 27180 26935 26881 26867 26795 26703 26651 26550 26432
26375 26368 26244 26204 26192 26181 26158 26133 26067 25945 25906 25759 25698 25688 25652 25615
25530 25528 25366 25324 25273 25142 24852 24846 24658 24592 24564 24463 24457 24374 24359 24332
23987 23956 23952 23932 23895 23837 23795 23774 23663 23621 23502 23453 23430 23366 23178 23090
22991 22942 22743 22442 22432 22415 22338 22134 22081 22014 21950 21948 21796 21784 21727 21722
21557 21498 21480 21315 21193 21127 21060 20997 20837 20813 20693x2 20686 20677 20676 20664 20663
20634 20616 20570 20566 20496 20441 20307 20226 20114"""
N1C1W1_C = """92 89 87 84 82x2 81 75 73 71 67x2 63 59 57 56 52 49 48 47 46 41 39 38 36 35 34x2 30 29
26 21 20 19 18 15x2 13 11 10x3 9 8x2 7 6x3 3"""
N1C3W1_A = """100x2 96 94 90 88 87 85 83 81 80x2 77 74 65 62x3 61 59x2 57 54 51 45x2 40 38 37x3 36
29x2 27 26 22x2 21 17 14x2 8 7 6 5x2 3x2 1"""
N1C1W4_G = """100x3 99 97 95x3 93x2 91 90 87x2 86 85x2 84x3 82 80 77 76 72 70 67 66 65 64 59 56 55
52 48 46 45 44 41 38 37 35x2 34x2 33x2 32x2 31"""
MILL = """1380x22 1520x25 1560x12 1710x14 1820x18 1880x18 1930x20 2000x10 2050x12 2100x14 2140x16
2150x18 2200x20"""
CHVATAL = "45x97 36x610 31x395 14x211"
STEP = "9x511 8x301 7x263 6x383"

INSTANCES = [
    ("four lengths, 1,313 parts", CHVATAL, 100, 453, "Chvátal, Linear Programming (1983)", "ch. 13",
     READ),
    ("triplets t60_00", T60_00, 1000, 20, FALKENAUER, "OR-Library, binpack5", READ),
    ("N1C1W1_C", N1C1W1_C, 100, 20, SCHOLL, "set 1", PROVEN),
    ("N1C3W1_A", N1C3W1_A, 150, 16, SCHOLL, "set 1", READ),
    ("N1C1W4_G", N1C1W4_G, 100, 37, SCHOLL, "set 1", PROVEN),
    ("paper machine, 219 rolls", MILL, 5600, 73, "Paper-machine example of the cutting-stock "
     "problem (encyclopedia article)", "", READ),
    ("four lengths, 1,458 parts", STEP, 20, 601, "Unit test of an open-source solver; it prints "
     "the bound of 600.375", "", PROVEN),
]  # fmt: skip


_LINES = (Path(__file__).parent / "u120.txt").read_text(encoding="utf-8").splitlines()
U120 = {head.split()[0]: parts for head, parts in zip(_LINES[::2], _LINES[1::2], strict=True)}
"""The set binpack1 of OR-Library whole: 120 parts each, capacity 150."""
BEST_KNOWN = [48, 49, 46, 49, 50, 48, 48, 49, 51, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 50]
"""As the set prints them. Two are not optima: the bound by length and ours are one less."""
BETTER = {"u120_08": 50, "u120_19": 49}
INSTANCES += [
    (
        f"uniform {name}" + (f" (the set prints {best})" if name in BETTER else ""),
        text,
        150,
        BETTER.get(name, best),
        FALKENAUER,
        "OR-Library, binpack1",
        PROVEN if name in BETTER else READ,
    )
    for (name, text), best in zip(U120.items(), BEST_KNOWN, strict=True)
]


def lengths(text: str) -> list[float]:
    """``45x97 36``: 97 parts of 45 and one of 36."""
    pairs = ((*part.split("x"), "1")[:2] for part in text.split())
    return [float(length) for length, number in pairs for _ in range(int(number))]


@pytest.mark.parametrize(
    ("text", "capacity"),
    [
        pytest.param(
            text,
            capacity,
            id=name,
            marks=published(
                f"{name}, capacity {capacity}", {"units": optimum}, source, place, known
            ),
        )
        for name, text, capacity, optimum, source, place, known in INSTANCES
    ],
)
def test_optimum(text, capacity):
    parts = [CutPart(length) for length in lengths(text)]
    units = pack(parts, capacity, 0.0)
    assert Counter(i for u in units for i in u) == Counter(range(len(parts)))
    assert all(sum(parts[i].length for i in u) <= capacity for u in units)
    assert lower_bound(parts, capacity, 0.0) <= len(units)
    return {"units": len(units)}


HARD = [
    # what ours takes over the optimum stands behind it
    ("triplets t120_00", T120_00, 1000, 40, 1, FALKENAUER, "120 parts fill 40 units to the last"),
    ("HARD0", HARD0, 100_000, 56, 1, SCHOLL, "set 3"),
]


@pytest.mark.parametrize(
    ("text", "capacity", "over"),
    [
        pytest.param(
            text,
            capacity,
            over,
            id=name,
            marks=published(
                f"{name}, capacity {capacity}: ours takes {over} more than the optimum",
                {"units": optimum},
                source,
                place,
            ),
        )
        for name, text, capacity, optimum, over, source, place in HARD
    ],
)
def test_hard_instances_and_their_gap(text, capacity, over):
    parts = [CutPart(length) for length in lengths(text)]
    units = pack(parts, capacity, 0.0)
    assert Counter(i for u in units for i in u) == Counter(range(len(parts)))
    return {"units": len(units) - over}


@pytest.mark.parametrize(
    ("text", "parts", "total"),
    # what the sets say of themselves: a triplet set fills its 20 bins to the last; the sum of
    # u120_00 is 7,078
    [(T60_00, 60, 20 * 1000), (U120["u120_00"], 120, 7078), (T120_00, 120, 40 * 1000),
     (HARD0, 200, None), (N1C1W1_C, 50, None),
     (N1C3W1_A, 50, None), (N1C1W4_G, 50, None), (MILL, 219, None),
     (CHVATAL, 1313, None), (STEP, 1458, None)],
)  # fmt: skip
def test_instances_are_whole(text, parts, total):
    found = lengths(text)
    assert len(found) == parts
    assert total is None or sum(found) == total


def test_optima_better_than_the_set_prints_are_proven_by_the_bound():
    for name, optimum in BETTER.items():
        assert lower_bound([CutPart(x) for x in lengths(U120[name])], 150, 0.0) == optimum


def test_the_set_is_whole():
    assert [len(lengths(text)) for text in U120.values()] == 20 * [120]


def test_the_optimum_of_the_triplets_is_proven_by_length():
    assert lower_bound([CutPart(x) for x in lengths(T60_00)], 1000, 0.0) == 20


def test_effort_is_what_closes_the_gap():
    parts = [CutPart(x) for x in lengths(T60_00)]
    assert len(pack(parts, 1000, 0.0, effort=0)) > lower_bound(parts, 1000, 0.0)
