"""The habits of one office and the choices of one project."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from .textures import Cladding
from .words import LAYERS, ROLES

UNITS = {"mm": 1000.0, "cm": 100.0, "m": 1.0, "in": 1 / 0.0254, "ft": 1 / 0.3048}
INSUNITS = {"mm": 4, "cm": 5, "m": 6, "in": 1, "ft": 2}

STONES = ["ashlar", "ledge", "squared", "rubble"]
STONE_PATTERNS = [
    ("AR-B816", 1.0),
    ("GRAVEL", 3.0),
    ("AR-B88", 1.0),
    ("V_MASONRY400x200", 10.0),
    ("ROCK", 25.0),
    ("BRSTONE", 25.0),
]


@dataclass
class Office:
    """Units, layers and manners of drawing."""

    rng: Random
    level: int
    lang: str
    unit: str
    factor: float
    insunits: int | None
    version: str
    scale: int
    layers: dict[str, str] = field(default_factory=dict)
    entity: str = "lines"
    slop: float = 0.0
    use_blocks: bool = False
    nested: bool = False
    scaled: bool = False
    view_block: bool = False
    real_dims: bool = True
    title: str = "text"
    shout: bool = True
    attr_marks: bool = False
    closed_walls: bool = False
    twice: bool = False
    splines: bool = False
    explode_hatch: bool = False

    @property
    def imperial(self) -> bool:
        """Whether lengths are feet and inches."""
        return self.unit in ("in", "ft")

    def snap(self, value: float, fine: bool = False) -> float:
        """A length rounded as this office would draw it."""
        coarse, small = (6 * 0.0254, 2 * 0.0254) if self.imperial else (0.05, 0.01)
        step = small if fine else coarse
        return round(value / step) * step

    def text(self, paper_mm: float) -> float:
        """The height in the model of text that is so tall on paper."""
        return paper_mm / 1000 * self.scale


@dataclass
class Project:
    """Materials and designs that all elevations of a sheet share."""

    main: Cladding
    accent: Cladding
    gable: Cladding
    second: Cladding
    roofing: Cladding
    window: str
    door: str
    sill: str
    head: str
    casing: float
    shutters: bool
    flowers: bool
    pitch: float
    overhang: float
    fascia: float
    wainscot: float
    storey: float
    floor: float
    quoins: bool
    downpipes: bool
    corner_boards: bool


def make_office(rng: Random) -> Office:
    """Draw an office from the hat."""
    level = rng.choice((0, 1, 2))
    lang = rng.choice(("en", "en", "en", "de", "de", "fr", "es", "it", "nl", "sv", "pl"))
    if lang == "en":
        unit = rng.choice(("in", "in", "in", "ft", "ft", "mm", "mm", "m"))
    else:
        unit = rng.choice(("mm", "mm", "cm", "m", "m"))
    code: int | None = INSUNITS[unit]
    fate = rng.random()
    if fate > 0.92 and level == 2:
        code = rng.choice([c for u, c in INSUNITS.items() if u != unit])
    elif fate > 0.7:
        code = None if rng.random() < 0.5 else 0
    imperial = unit in ("in", "ft")
    return Office(
        rng,
        level,
        lang,
        unit,
        UNITS[unit],
        code,
        version=rng.choice(("R12", "R2000", "R2007", "R2010", "R2013", "R2018", "R2018")),
        scale=rng.choice((48, 48, 64, 96)) if imperial else rng.choice((50, 100, 100)),
        layers=_layers(rng, lang, level),
        entity=rng.choice(
            (
                ("lw", "lw", "lines"),
                ("lines", "lw", "poly", "mixed"),
                ("lines", "lines", "mixed", "poly"),
            )[level]
        ),
        slop=(0.0, 0.0, rng.choice((0.0, 0.004, 0.012)))[level],
        use_blocks=rng.random() < (0.3, 0.5, 0.6)[level],
        nested=rng.random() < 0.4,
        scaled=rng.random() < 0.35,
        view_block=rng.random() < (0.05, 0.15, 0.25)[level],
        real_dims=rng.random() < 0.65,
        title=rng.choice(("text", "text", "mtext", "attr", "none" if level else "text")),
        shout=rng.random() < 0.7,
        attr_marks=rng.random() < 0.4,
        closed_walls=rng.random() < (0.8, 0.45, 0.15)[level],
        twice=rng.random() < (0.0, 0.1, 0.25)[level],
        splines=rng.random() < 0.3,
    )


def _layers(rng: Random, lang: str, level: int) -> dict[str, str]:
    if rng.random() < (0.0, 0.1, 0.25)[level]:
        return dict.fromkeys(ROLES, "0")
    names = dict(zip(ROLES, rng.choice(LAYERS[lang]), strict=True))
    if level and rng.random() < 0.3:
        whole = names["wall"]
        for role in rng.sample(
            ["window", "door", "trim", "roof", "back", "fixture", "hatch", "roofhatch", "ground"], 6
        ):
            names[role] = whole
    if lang == "en" and rng.random() < 0.2:
        names = {r: n.lower() for r, n in names.items()}
    return names


def _stone(rng: Random, office: Office) -> Cladding:
    if office.version != "R12" and rng.random() < 0.4:
        pattern, size = rng.choice(STONE_PATTERNS)
        return Cladding("stone", pattern=pattern, size=size)
    way = rng.choice(STONES)
    step = rng.choice((0.15, 0.2, 0.25, 0.3))
    return Cladding("stone", way, step, patch=rng.random() < (0.0, 0.12, 0.3)[office.level])


def _plain(rng: Random, office: Office, reason: str) -> Cladding:
    patterned = office.version != "R12" and rng.random() < 0.35
    if reason == "stucco":
        if patterned:
            return Cladding(reason, pattern="AR-SAND", size=rng.choice((1.0, 2.0)))
        way = rng.choice(("none", "none", "specks"))
        return Cladding(reason, way, 0.3, patch=rng.random() < 0.3)
    if reason == "brick":
        if patterned:
            return Cladding(reason, pattern="AR-BRSTD")
        return Cladding(
            reason,
            rng.choice(("brick", "level")),
            rng.choice((0.075, 0.15)),
            patch=rng.random() < 0.3,
        )
    if reason == "siding":
        if patterned:
            return Cladding(reason, pattern="LINE", size=rng.choice((40.0, 60.0)))
        return Cladding(reason, "level", rng.choice((0.1, 0.125, 0.15, 0.2)))
    if reason == "boards":
        if patterned:
            return Cladding(reason, pattern="LINE", size=rng.choice((45.0, 60.0)), angle=90)
        return Cladding(reason, rng.choice(("upright", "batten")), rng.choice((0.15, 0.2, 0.3)))
    if reason == "shingles":
        return Cladding(reason, "shingle", rng.choice((0.13, 0.18)))
    if reason == "panels":
        return Cladding(reason, "panel", rng.choice((1.2, 1.5, 2.4)))
    return Cladding(reason, "none")


def make_project(rng: Random, office: Office) -> Project:
    """Materials and designs for one building."""
    mains = ["stucco", "stucco", "siding", "boards", "brick", "shingles", "panels"]
    main = _plain(rng, office, rng.choice(mains))
    if rng.random() < 0.2:
        main = _stone(rng, office)
    accent = _stone(rng, office)
    gable = _plain(rng, office, rng.choice(["boards", "shingles", "siding", "stucco"]))
    second = _plain(rng, office, rng.choice(["boards", "panels", "stucco", "siding", "concrete"]))
    roofing = rng.choice(
        (
            Cladding("roof", "level", rng.choice((0.2, 0.35))),
            Cladding("roof", "upright", rng.choice((0.2, 0.4, 0.5))),
            Cladding("roof", "shingle", 0.25),
            Cladding("roof", "none"),
            Cladding("roof", "level", 0.3, patch=True),
        )
    )
    imperial = office.imperial
    return Project(
        main,
        accent,
        gable,
        second,
        roofing,
        window=rng.choice(("casement", "double", "sash", "sash", "grid", "fixed", "transom")),
        door=rng.choice(("panel", "glazed", "panel", "lites", "dutch", "flush", "sidelights")),
        sill=rng.choice(("none", "line", "stone", "stone")),
        head=rng.choice(("none", "none", "lintel", "soldier", "voussoir", "key")),
        casing=rng.choice((0.0, 0.0, 0.09, 0.12)),
        shutters=rng.random() < 0.18,
        flowers=rng.random() < 0.08,
        pitch=rng.choice((0.36, 0.5, 0.67, 0.84, 1.0)),
        overhang=office.snap(rng.choice((0.15, 0.3, 0.45, 0.6)), True),
        fascia=rng.choice((0.15, 0.2, 0.24)),
        wainscot=office.snap(rng.choice((0.6, 0.75, 0.9, 1.05))),
        storey=9 * 0.3048 if imperial else rng.choice((2.6, 2.75, 3.0)),
        floor=rng.choice((0.0, 0.15, 0.3, 0.45)),
        quoins=rng.random() < 0.12,
        downpipes=rng.random() < 0.5,
        corner_boards=rng.random() < 0.35,
    )
