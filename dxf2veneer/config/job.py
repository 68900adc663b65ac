"""The job: every setting of a takeoff, from a job file (TOML) and the command's options, checked.

An option wins over the file, the file over the default, and each setting knows which it was. All
tolerances and limits of the package have their default here.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from dxf2veneer.basics.messages import message
from dxf2veneer.config.advice import Advising
from dxf2veneer.config.aims import AIMS, Replaced, settle
from dxf2veneer.config.basis import GIVEN, OWN, Basis, BasisKind
from dxf2veneer.config.bidding import AlternateChoice, Bid, Labour, Ordering
from dxf2veneer.config.blend import WallShare, as_wall_shares
from dxf2veneer.config.checks import (
    as_choice,
    as_count,
    as_file,
    as_flag,
    as_length,
    as_length_or,
    as_names,
    as_number,
    as_text,
)
from dxf2veneer.config.deductions import DEDUCTION_RULES, settle_rule, terms_of
from dxf2veneer.config.delivery import Trucks
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job_values import (
    MarkLine,
    Outline,
    Window,
    as_dxf_version,
    as_encoding,
    as_mark_lines,
    as_opening_outlines,
    as_outlines,
    as_plot_scale,
    as_points,
    as_prefix,
    as_unit,
    as_windows,
)
from dxf2veneer.config.letter import LetterSettings
from dxf2veneer.config.limits import Limits
from dxf2veneer.config.origin import DEFAULT, Origin
from dxf2veneer.config.pricing import Pricing
from dxf2veneer.config.printing import USUAL, as_sheets
from dxf2veneer.config.settings import Described, check, described, fill, setting, template
from dxf2veneer.config.toml_file import read
from dxf2veneer.config.treatments import Treatment
from dxf2veneer.config.wall_rows import Walls

_CLEARANCE_PLAY_IN = 2.0
"""How much higher than the clearance the starter may lie where the job does not say."""
_LAYERS = '["A-WALL-*"]'
_OUTLINE = Basis(BasisKind.OWN, "the outline is taken to be the veneer's own edge")


@dataclass(frozen=True)
class Identity:
    """Who and what the takeoff is for; printed on the summary."""

    name: str = setting("", "name of the job", as_text, '"Gatehouse"')
    company: str = setting(
        "", "your company, for the head of the summary", as_text, '"Example Stone Ltd"'
    )
    note: str = setting("", "a line printed under the name", as_text, '"Bid set of 3 March"')


@dataclass(frozen=True)
class Layers:
    """Layers of the drawing: names or shell-style wildcards, upper and lower case alike."""

    wall: tuple[str, ...] = setting(
        (), "closed outlines of the walls", as_names, _LAYERS, option="wall-layer"
    )
    opening: tuple[str, ...] = setting(
        (), "outlines of openings of any kind", as_names, '["A-OPNG"]', option="opening-layer"
    )
    window: tuple[str, ...] = setting((), "outlines of windows", as_names, '["A-GLAZ"]')
    door: tuple[str, ...] = setting((), "outlines of doors", as_names, '["A-DOOR"]')
    vent: tuple[str, ...] = setting((), "outlines of vents", as_names, '["M-VENT"]')
    fixture: tuple[str, ...] = setting(
        (), "outlines of lights, receptacles, hose bibs, meters", as_names, '["E-LITE"]'
    )
    outside_corner: tuple[str, ...] = setting(
        (),
        "lines along vertical edges that are outside corners",
        as_names,
        '["A-ELEV-CORN-OUTS"]',
        option="outside-corner-layer",
    )
    inside_corner: tuple[str, ...] = setting(
        (),
        "lines along vertical edges that are inside corners",
        as_names,
        '["A-ELEV-CORN-INSD"]',
        option="inside-corner-layer",
    )
    bay: tuple[str, ...] = setting(
        (),
        "lines along vertical edges that are bay corners: the panels of both walls are mitred",
        as_names,
        '["A-ELEV-CORN-BAYS"]',
        option="bay-layer",
    )
    cap: tuple[str, ...] = setting(
        (), "lines along the top of capped veneer", as_names, '["A-ELEV-CAPS"]', option="cap-layer"
    )
    level: tuple[str, ...] = setting(
        (),
        "level lines that tie the courses of several walls together",
        as_names,
        '["A-ELEV-LEVL"]',
        option="level-layer",
    )
    wall_mark: tuple[str, ...] = setting(
        (),
        "points, texts or block references, each in an outline that is a wall; other outlines are "
        "none",
        as_names,
        '["A-ELEV-MARK-WALL"]',
        option="wall-mark-layer",
    )
    opening_mark: tuple[str, ...] = setting(
        (),
        "points, texts or block references, each in a face between lines that is an opening",
        as_names,
        '["A-ELEV-MARK-OPNG"]',
        option="opening-mark-layer",
    )
    name: tuple[str, ...] = setting(
        (), "texts that name the wall they lie in", as_names, '["A-ELEV-IDEN"]', option="name-layer"
    )


@dataclass(frozen=True)
class Reading:
    """How the drawing is read."""

    units: str | None = setting(
        None,
        "unit of the drawing, where the file names none or the wrong one",
        as_unit,
        '"mm"',
        option="units",
    )
    scale: float = setting(
        1.0,
        "true size = drawn size x scale, for drawings not at full size",
        as_number(1e-6, 1e6),
        "48",
        option="scale",
        basis=Basis(BasisKind.COMMON, "elevations are drawn at full size"),
    )
    gap: float = setting(
        0.25,
        "ends of an outline this near to each other are joined",
        as_length(0.0, 12.0),
        "0.25",
        option="gap",
        basis=OWN,
    )
    window: tuple[Window, ...] = setting(
        (),
        "boxes in the drawing's units, X0,Y0,X1,Y1 or NAME=X0,Y0,X1,Y1; only what lies in them is "
        "read, and the name is that of walls without another",
        as_windows,
        '["North=1100,2280,7335,5064"]',
        option="window",
    )
    elevation: tuple[Window, ...] = setting(
        (),
        "boxes in the drawing's units that hold an elevation each, NAME=X0,Y0,X1,Y1: its walls go "
        "by that name in treatments, shares and the proposal, and all of the drawing is read",
        as_windows,
        '["North=1100,2280,7335,5064"]',
    )
    window_closes: bool = setting(
        False,
        "the border of a window or view closes the outlines of walls that it cuts, between the "
        "outermost lines that it cuts",
        as_flag,
        "true",
        option="window-closes",
        basis=OWN,
    )
    view: tuple[str, ...] = setting(
        (),
        "numbers of views, as layers and propose print them; only what lies in their boxes is read",
        as_names,
        '["V2"]',
        option="view",
    )
    wall_at: tuple[tuple[float, float], ...] = setting(
        (),
        "points in the drawing's units, X,Y; only wall outlines that hold one are walls",
        as_points,
        '["1500,3000"]',
        option="wall-at",
    )
    opening_at: tuple[tuple[float, float], ...] = setting(
        (),
        "points in the drawing's units, X,Y; the face between lines round each is an opening",
        as_points,
        '["2500,3600"]',
        option="opening-at",
    )
    wall_outline: tuple[Outline, ...] = setting(
        (),
        "outlines of walls, as propose writes them: X,Y X,Y ... in the drawing's units, or "
        "NAME=X,Y ...; they count besides those of the wall layers",
        as_outlines,
        '["North=0,0 24000,0 24000,8000 0,8000"]',
    )
    opening_outline: tuple[Outline, ...] = setting(
        (),
        "outlines of openings likewise, each KIND=X,Y X,Y ... with window, door, garage, vent or "
        "fixture as KIND",
        as_opening_outlines,
        '["door=2000,0 3000,0 3000,2100 2000,2100"]',
    )
    mark_line: tuple[MarkLine, ...] = setting(
        (),
        "lines along edges, caps and levels in the drawing's units, KIND=X,Y X,Y or KIND TAG=X,Y "
        "X,Y with outside, inside, bay, end, butt, cap or level as KIND; two edges with one tag "
        "are one corner; they count besides those of the layers",
        as_mark_lines,
        '["outside A=24000,0 24000,8000"]',
    )
    encoding: str | None = setting(
        None,
        "code page of the texts and layer names of an ASCII file, where it declares none or the "
        "wrong one",
        as_encoding,
        '"cp1252"',
        option="encoding",
    )
    hatch_pattern: tuple[str, ...] = setting(
        (),
        "pattern names or wildcards; hatches of other patterns bound no area (SOLID for filled "
        "ones; none: any pattern)",
        as_names,
        '["BRICK*"]',
        option="hatch-pattern",
    )
    include_hidden: bool = setting(
        False,
        "read layers that are off or frozen too",
        as_flag,
        "true",
        option="include-hidden",
        basis=OWN,
    )


@dataclass(frozen=True)
class Proposed:
    """Whether a person has looked at what the program proposed."""

    confirmed: bool | None = setting(
        None,
        "true once a person has looked at the proposal, false before that: every output then says "
        "on top that it is proposed, not confirmed; none where walls and openings were not "
        "proposed",
        as_flag,
        "true",
    )
    looked_at: tuple[str, ...] = setting(
        (),
        "views that a person has looked at, as the page of confirm writes them; with the last of "
        "them it sets confirmed",
        as_names,
        '["V2", "V4"]',
    )
    sha256: str | None = setting(
        None,
        "checksum of the drawing that was proposed for; another drawing is warned of",
        as_text,
        '"9f86d081..."',
    )


@dataclass(frozen=True)
class Recognise:
    """How outlines become walls and openings."""

    nested_walls: str = setting(
        "report",
        "a wall outline inside a wall: report (left out, with a warning), hole (taken out), "
        "separate (a wall of its own, taken out of the outer), ignore (left out)",
        as_choice("report", "hole", "separate", "ignore"),
        '"hole"',
        option="nested-walls",
        basis=OWN,
    )
    edge_kind: str = setting(
        "butt",
        "kind of a side edge that no mark says otherwise: end (finished with corner pieces) or "
        "butt (plain)",
        as_choice("end", "butt"),
        '"end"',
        option="edges",
        basis=OWN,
    )
    edge_tolerance: float = setting(
        1.0,
        "greatest distance of a mark from the edge, head or wall it belongs to",
        as_length(0.0, 48.0),
        "1",
        basis=OWN,
    )
    door_reach: float = setting(
        6.0,
        "an opening that was pointed at and ends this little above the base is taken down to it",
        as_length(0.0, 48.0),
        "6",
        option="door-reach",
        basis=OWN,
    )
    tag_reach: float = setting(
        36.0,
        "greatest distance of a corner's tag from its mark",
        as_length(0.0, 600.0),
        "36",
        basis=OWN,
    )
    bay_angle: float = setting(
        135.0,
        "angle between the walls at a bay corner, in degrees; each mitre is cut at half of it",
        as_number(30.0, 179.0),
        "120",
        option="bay-angle",
        basis=OWN,
    )
    bay_inside: tuple[str, ...] = setting(
        (),
        "tags, or ids such as C3, of the bay corners that turn toward you: there the stone behind "
        "the faces is longer, and a panel loses what lies between them",
        as_names,
        '["P", "C3"]',
    )


@dataclass(frozen=True)
class Deduction:
    """Openings taken off the area: those over a threshold, by the practice of your office."""

    rule: str | None = setting(
        None,
        "a published rule in place of a threshold of your own, by the work that it is written for: "
        f"{', '.join(DEDUCTION_RULES)} (docs/rules.md has what each says, and its source)",
        as_choice(*DEDUCTION_RULES),
        '"every"',
        option="deduct-rule",
    )
    threshold_sqft: float = setting(
        0.0,
        "area in square feet above which an opening is deducted; 0 deducts every one",
        as_number(0.0, 10_000.0),
        "10",
        option="deduct-over",
        basis=Basis(BasisKind.PUBLISHED, "NCMA TEK 14 (1969), block: every opening"),
    )
    at_threshold: bool = setting(
        True,
        "whether an opening of exactly the threshold is deducted",
        as_flag,
        "false",
        basis=OWN,
    )


@dataclass(frozen=True)
class Trim:
    """Width of the trim stones round openings; 0 for none. The band comes off the panels' area."""

    head: float = setting(
        0.0,
        "width of the band over heads",
        as_length(0.0, 48.0),
        "8",
        option="trim-head",
        basis=OWN,
    )
    jambs: float = setting(
        0.0,
        "width of the bands beside jambs",
        as_length(0.0, 48.0),
        "4",
        option="trim-jambs",
        basis=OWN,
    )
    sill: float = setting(
        0.0,
        "width of the band under sills",
        as_length(0.0, 48.0),
        "4",
        option="trim-sill",
        basis=OWN,
    )


@dataclass(frozen=True)
class Courses:
    """The course lines."""

    clearance: float = setting(
        0.0,
        "height of the starter line above the wall's base",
        as_length(0.0, 48.0),
        "4",
        option="clearance",
        basis=_OUTLINE,
    )
    clearance_most: float | None = setting(
        None,
        "greatest height of the starter line above the wall's base that --start best may choose; "
        "where it is left out, 2 in more than the clearance, or where the starter stands without "
        "--start best if that is higher",
        as_length(0.0, 96.0),
        "6",
        option="clearance-most",
        basis=OWN,
    )
    start: float | Literal["best"] = setting(
        0.0,
        "shift of all course lines, up or down; or best: for each group of walls whose courses "
        "run together the shift, between clearance and clearance_most, that leaves fewest "
        "slivers, then fewest pieces to rip, then fewest panels",
        as_length_or("best", -96.0, 96.0),
        "-1.5",
        option="start",
        basis=OWN,
    )
    sliver: float = setting(
        2.0,
        "a strip lower than this is a sliver",
        as_length(0.0, 96.0),
        "2",
        option="sliver",
        basis=OWN,
    )

    @property
    def shift(self) -> float:
        """The start as a number: where the best is asked for 0, from which the search sets out."""
        return 0.0 if self.start == "best" else self.start

    @property
    def highest(self) -> float:
        """Greatest height of the starter above the base that the search for the best start may
        choose.
        """
        return (
            self.clearance + _CLEARANCE_PLAY_IN
            if self.clearance_most is None
            else self.clearance_most
        )


@dataclass(frozen=True)
class Planning:
    """The course plan: every panel in its place, and what it is cut from."""

    panels: bool = setting(
        True,
        "lay the job out panel by panel; without it panels are estimated by area",
        as_flag,
        "false",
        option="plan",
        basis=OWN,
    )
    most: float = setting(
        30_000.0,
        "a job of more panels than this is estimated by area, because laying it out takes minutes",
        as_number(1.0, 1e7),
        "100000",
        option="plan-most",
        basis=OWN,
    )
    search: float = setting(
        200.0,
        "how often the exact search for the fewest panels of a small job may branch; 0 leaves it "
        "out",
        as_number(0.0, 1e6),
        "2000",
        option="plan-search",
        basis=OWN,
    )
    kerf: float = setting(
        0.125, "width of a saw cut", as_length(0.0, 1.0), "0.125", option="kerf", basis=OWN
    )
    cuts_per_panel: float = setting(
        10.0,
        "how many crosscuts a panel is worth: a run is cut into more pieces only where that saves "
        "enough panels",
        as_number(0.1, 10_000.0),
        "10",
        option="cuts-per-panel",
        basis=OWN,
    )
    aim: str | None = setting(
        None,
        "what the plan is to be best at, in one word for look, offcuts, cuts_per_panel and "
        "tolerance: balance (their defaults; the others leave no room for edges that are off), "
        "panels (fewest, whatever else), cuts (fewest crosscuts), lengths (fewest different "
        "lengths to cut, for one to three panels in a hundred), wall (offcuts stay on their wall) "
        "or look (offcuts go anywhere)",
        as_choice(*AIMS),
        '"balance"',
        option="aim",
    )
    compare: bool = setting(
        False,
        "lay the job out for every word of aim too, and list side by side the plans that none of "
        "the others beats; takes about six times as long",
        as_flag,
        "false",
        option="compare-plans",
        basis=OWN,
    )
    offcuts: str = setting(
        "near",
        "where an offcut may be used again: wall (the wall it was cut on), near (that wall or the "
        "next one round a corner, before long; farther only where it would cost more than three "
        "panels in two hundred) or job (anywhere)",
        as_choice("wall", "near", "job"),
        '"job"',
        option="offcuts",
        basis=OWN,
    )
    offcut_wait: float = setting(
        6.0,
        "for how many courses an offcut that is used near may wait until it is laid",
        as_number(0.0, 1000.0),
        "4",
        option="offcut-wait",
        basis=OWN,
    )
    look: str = setting(
        "quiet",
        "how far joints are moved so that they make no pattern (in line two courses apart, stairs, "
        "repeated courses): off, free (it may cost no panel) or quiet (it may cost one panel in a "
        "hundred); not where offcuts stay on their wall",
        as_choice("off", "free", "quiet"),
        '"off"',
        option="look",
        basis=OWN,
    )
    tolerance: float = setting(
        0.5,
        "how far an edge of a wall or an opening may be off on site while rules still hold and end "
        "pieces can be cut to fit; it may cost two panels in a hundred; 0 makes no room",
        as_length(0.0, 6.0),
        "0.25",
        option="tolerance",
        basis=Basis(BasisKind.MEMORY, "walls are rarely truer"),
    )
    boxes: int = setting(
        3,
        "how many boxes of panels are open at a time, so that boxes that differ a little make no "
        "patches; at least one of each color where the product has several",
        as_count(20),
        "4",
        option="boxes",
        basis=Basis(BasisKind.OWN, "several boxes are common practice, how many is not said"),
    )
    blend: tuple[WallShare, ...] = setting(
        (),
        "walls (names or ids) that get other shares of the product's colors: wall, color and "
        "share in per cent of the wall's face, 100 together for each wall",
        as_wall_shares,
        '[{ wall = "FRONT", color = "Buff", share = 70 }, '
        '{ wall = "FRONT", color = "Tan", share = 30 }]',
    )
    alike: bool = setting(
        True,
        "lay walls that are drawn alike with the same courses and joints, so that one picture "
        "serves them all",
        as_flag,
        "false",
        option="alike",
        basis=OWN,
    )
    end_overhang: float = setting(
        0.0,
        "how far corner pieces run past a finished end, the same in all courses",
        as_length(0.0, 3.0),
        "1",
        option="end-overhang",
        basis=OWN,
    )
    outside_overhang: float = setting(
        0.0,
        "how far corner pieces run past the drawn edge at an outside corner",
        as_length(0.0, 6.0),
        "1.5",
        option="outside-overhang",
        basis=_OUTLINE,
    )


@dataclass(frozen=True)
class ProductChoice:
    """The panel."""

    file: str | None = setting(
        None,
        "product file, from the job file's folder; without one a demo product, whose numbers "
        "are invented (dxf2veneer product new writes one to fill in)",
        as_file,
        '"panel.toml"',
        option="product",
    )


@dataclass(frozen=True)
class Site:
    """Sizes measured on site, which go before drawn ones."""

    file: str | None = setting(
        None,
        "file of site measures, from the job file's folder; dxf2veneer site writes one to fill in",
        as_file,
        '"site.toml"',
        option="site",
    )
    before: str | None = setting(
        None,
        "result file (JSON) of an earlier takeoff, from the job file's folder: its plan is kept "
        "in place of the plan as drawn, so that what is cut stays cut",
        as_file,
        '"out/front-takeoff.json"',
        option="site-before",
    )


@dataclass(frozen=True)
class Output:
    """What is written."""

    display: str = setting(
        "imperial",
        "units in what people read: imperial or metric",
        as_choice("imperial", "metric"),
        '"metric"',
        option="display",
        basis=OWN,
    )
    layer_prefix: str = setting(
        "A-ELEV-VENR",
        "beginning of the overlay's layer names: discipline, major group and at most one minor "
        "group of the layer standard",
        as_prefix,
        '"A-ELEV-VENR"',
        option="layer-prefix",
        basis=OWN,
    )
    overlay_only: bool = setting(
        False,
        "write just our layers, for attaching to the drawing at 0,0",
        as_flag,
        "true",
        option="overlay-only",
        basis=OWN,
    )
    plot_scale: float | None = setting(
        None,
        'scale at which the overlay will be plotted, 48, 1:50 or 1/4" = 1\'-0"; its texts are '
        "sized for it, without one for a guess from the largest wall",
        as_plot_scale,
        "48",
        option="plot-scale",
    )
    paper: str | None = setting(
        None,
        "paper of the PDF: letter, tabloid, A4 or A3; without one letter, with metric display A4",
        as_choice("letter", "tabloid", "A4", "A3"),
        '"tabloid"',
        option="paper",
    )
    print: tuple[str, ...] = setting(
        USUAL,
        "sheets of the workbook that are printed, or all; the others are for the screen",
        as_sheets,
        '["Summary", "Price", "Order"]',
        basis=OWN,
    )
    dxf_version: str | None = setting(
        None,
        "DXF version of the overlay: R12, R2000, R2004, R2007, R2010, R2013 or R2018; without one "
        "the drawing's own",
        as_dxf_version,
        '"R2010"',
        option="dxf-version",
    )
    level_name: str = setting(
        "", "what the level line is called on story poles", as_text, '"Top of slab"'
    )
    level_height: float = setting(
        0.0,
        "height that the level line has on story poles, as on the drawings",
        as_length(-12_000.0, 12_000.0),
        '"100\'-0\\""',
        basis=OWN,
    )
    binary: bool = setting(
        False,
        "write the overlay as binary DXF; the copy of a binary drawing is binary anyway",
        as_flag,
        "true",
        option="binary",
        basis=OWN,
    )


SECTIONS: Mapping[str, type] = {
    "job": Identity,
    "layers": Layers,
    "drawing": Reading,
    "proposal": Proposed,
    "recognise": Recognise,
    "deduction": Deduction,
    "trim": Trim,
    "courses": Courses,
    "advice": Advising,
    "walls": Walls,
    "plan": Planning,
    "product": ProductChoice,
    "site": Site,
    "order": Ordering,
    "prices": Pricing,
    "delivery": Trucks,
    "labour": Labour,
    "bid": Bid,
    "letter": LetterSettings,
    "output": Output,
    "limits": Limits,
}


@dataclass(frozen=True)
class Job:
    """All settings of a takeoff. Lengths in inches, areas in square feet where the key says so."""

    job: Identity = Identity()
    layers: Layers = Layers()
    drawing: Reading = Reading()
    proposal: Proposed = Proposed()
    recognise: Recognise = Recognise()
    deduction: Deduction = Deduction()
    trim: Trim = Trim()
    courses: Courses = Courses()
    advice: Advising = Advising()
    walls: Walls = Walls()
    plan: Planning = Planning()
    product: ProductChoice = ProductChoice()
    site: Site = Site()
    order: Ordering = Ordering()
    prices: Pricing = Pricing()
    delivery: Trucks = Trucks()
    labour: Labour = Labour()
    bid: Bid = Bid()
    letter: LetterSettings = LetterSettings()
    output: Output = Output()
    limits: Limits = Limits()
    origins: tuple[tuple[str, Origin], ...] = ()
    """(key, where its value came from) for every setting that is not at its default."""
    replaced: tuple[Replaced, ...] = ()
    """The single settings that ``plan.aim`` stands in the place of."""

    def origin_of(self, key: str) -> Origin:
        """Where the value of ``section.key`` came from."""
        return dict(self.origins).get(key, DEFAULT)

    @property
    def metric_rates(self) -> bool:
        """Whether rates of work and of the bid go by square meters and meters.

        The option ``--display`` changes what people read, never what a rate in a file is for.
        """
        if self.labour.rates is not None:
            return self.labour.rates == "metric"
        by_option = self.origin_of("output.display").kind == "option"
        return self.output.display == "metric" and not by_option

    def basis_of(self, key: str) -> Basis | None:
        """What the value of ``section.key`` rests on; None where nothing is set."""
        section, _, name = key.partition(".")
        if section == "deduction" and self.deduction.rule:
            return DEDUCTION_RULES[self.deduction.rule].basis
        if self.origin_of(key).kind != "default":
            return GIVEN
        defaults = {n: about.basis for n, about, _ in described(SECTIONS[section])}
        return defaults[name]

    def items(self) -> dict[str, Any]:
        """Every setting by ``section.key``, in order."""
        return {
            f"{s}.{name}": getattr(getattr(self, s), name)
            for s, owner in SECTIONS.items()
            for name, _, _ in described(owner)
        }

    def clearance_of(self, wall_id: str, name: str) -> float:
        """Height of a wall's starter line above its base, in inches."""
        own = self.walls.clearance_of(wall_id, name)
        return self.courses.clearance if own is None else own

    @property
    def product_path(self) -> Path | None:
        """The product file, found from the folder of the file that names it."""
        return self._beside("product.file", self.product.file)

    @property
    def site_path(self) -> Path | None:
        """The file of site measures, found from the folder of the file that names it."""
        return self._beside("site.file", self.site.file)

    @property
    def before_path(self) -> Path | None:
        """The result file of an earlier takeoff whose plan is kept, found likewise."""
        return self._beside("site.before", self.site.before)

    @property
    def prices_path(self) -> Path | None:
        """The price file, found from the folder of the file that names it."""
        return self._beside("order.prices", self.order.prices)

    def alternate_path(self, choice: AlternateChoice) -> Path | None:
        """The product file of an alternate, found likewise; None for the job's own product."""
        return self._beside("bid.alternates", choice.product)

    def treatment_path(self, treatment: Treatment) -> Path:
        """The product file of a treatment that names one, found likewise."""
        found = self._beside("walls.treatments", treatment.product or "")
        return found if found is not None else Path()

    @property
    def other_products(self) -> tuple[Path, ...]:
        """The product files besides the job's own: those of walls and of alternates."""
        named = (self.treatment_path(t) for t in self.walls.treatments if t.product is not None)
        others = filter(None, map(self.alternate_path, self.bid.alternates))
        return tuple(dict.fromkeys((*named, *others)))

    def _beside(self, key: str, file: str | None) -> Path | None:
        """A file named by a setting, from the folder of the file that names it."""
        return None if file is None else self.origin_of(key).folder / file


def load_job(path: Path | None = None, options: Mapping[str, Any] | None = None) -> Job:
    """The job of a file and of options; an option wins over the file.

    Args:
        path: The job file (TOML); None for none.
        options: ``section.key`` to value; None means not given.

    Returns:
        The job, checked.

    Raises:
        SettingsError: For the first thing that is wrong.
    """
    values: dict[tuple[str, str], Any] = {}
    origins: dict[str, Origin] = {}
    if path is not None:
        file = read(path)
        values = fill(file, SECTIONS)
        origins = {f"{s}.{k}": file.origin(s, k) for s, k in values}
    for key, value in (options or {}).items():
        about = _described_by(key)
        if value is not None and value != ():
            section, _, name = key.partition(".")
            option = about.option or key
            values[section, name] = check(f"--{option}", about, value)
            origins[key] = Origin("option", key=key, option=option)
    replaced = settle(values, origins)
    settle_rule(values, origins)
    sections = {
        s: owner(**{k: v for (section, k), v in values.items() if section == s})
        for s, owner in SECTIONS.items()
    }
    _check_clearance(sections["courses"], origins)
    _check_compared(sections, origins)
    return Job(**sections, origins=tuple(origins.items()), replaced=replaced)


def _described_by(key: str) -> Described:
    """What the setting ``section.key`` says of itself."""
    section, _, name = key.partition(".")
    for known, about, _ in described(SECTIONS[section]) if section in SECTIONS else ():
        if known == name:
            return about
    raise SettingsError(message("option-unknown", key=key))


def _check_compared(sections: Mapping[str, Any], origins: Mapping[str, Origin]) -> None:
    """Plans that are compared are laid out, and no wall is begun. Raises SettingsError."""
    if not sections["plan"].compare:
        return
    place = origins["plan.compare"].place(folders=True)
    if not sections["plan"].panels:
        other = origins["plan.panels"].place(folders=True)
        raise SettingsError(message("nothing-to-compare", place=place, other=other))
    if sections["site"].file:
        raise SettingsError(message("compared-on-site", place=place))


def _check_clearance(courses: Courses, origins: Mapping[str, Origin]) -> None:
    """The starter's greatest height is no less than its least. Raises SettingsError."""
    if courses.highest < courses.clearance:
        raise SettingsError(
            message(
                "clearance-most-below",
                place=origins["courses.clearance_most"].place(folders=True),
                most=courses.highest,
                clearance=courses.clearance,
            )
        )


def with_settings(job: Job, **changes: Any) -> Job:
    """The job with settings changed; for use from Python.

    Args:
        job: The job.
        **changes: Checked values by section__key: ``trim__head=8.0``. ``plan__aim`` and
            ``deduction__rule`` bring those that they stand for, unless they are given too.

    Returns:
        Another job, which says of those settings that a program set them.
    """
    origins, replaced = dict(job.origins), {one.key: one for one in job.replaced}
    for key, wanted in AIMS.get(changes.get("plan__aim") or "", {}).items():
        if key.replace(".", "__") not in changes:
            changes[key.replace(".", "__")] = wanted
            if key in origins:
                name = key.partition(".")[2]
                replaced.setdefault(key, Replaced(key, getattr(job.plan, name), origins[key]))
    if changes.get("deduction__rule"):
        terms = terms_of(changes["deduction__rule"]).items()
        changes = {f"deduction__{name}": value for name, value in terms} | changes
    for key, value in changes.items():
        section, _, name = key.partition("__")
        changed = dataclasses.replace(getattr(job, section), **{name: value})
        job = dataclasses.replace(job, **{section: changed})
        origins[f"{section}.{name}"] = Origin("program", key=f"{section}.{name}")
    return dataclasses.replace(
        job, origins=tuple(origins.items()), replaced=tuple(replaced.values())
    )


def new_job_text() -> str:
    """A commented job file in which every setting stands at its default.

    Returns:
        TOML text.
    """
    title = (
        "Job file of dxf2veneer. Take away the # before a setting to change it.\n"
        'Lengths are inches, or text such as "4\'-6\\"" or "203 mm".\n'
        "Options of the command win over this file."
    )
    return template(title, SECTIONS)
