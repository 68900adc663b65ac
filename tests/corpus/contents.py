"""Who draws a sheet and which views it has, before they find their place on it."""

from __future__ import annotations

import random
from dataclasses import dataclass

from corpus import non_elevations, other_views, strange, surroundings
from corpus.arrangement import View
from corpus.buildings import CLADDINGS, make_building
from corpus.extras import extras
from corpus.facades import facade_shapes
from corpus.habits import HABITS, Habit
from corpus.placing import make_facade
from corpus.styles import STYLES, Style
from corpus.words import LANGUAGES, Language

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")


@dataclass(frozen=True)
class Office:
    """Who drew a sheet."""

    style: Style
    habit: Habit
    language: Language
    unit: str
    version: str

    @property
    def imperial(self) -> bool:
        return self.unit in ("in", "ft")

    @property
    def text_size(self) -> float:
        """Height of ordinary text on paper, in millimeters."""
        return 2.4 if self.imperial else 2.5


def make_office(rng: random.Random, strangers: bool) -> Office:
    """An office at random; ``strangers`` adds those that only draw sheets kept aside."""
    styles, languages = list(STYLES), list(LANGUAGES)
    if strangers:
        styles += strange.STYLES
        languages += strange.LANGUAGES * 2
    language = rng.choice(languages)
    feet = language.name == "en" and rng.random() < 0.75
    units = ["in", "in", "ft"] if feet else ["mm", "mm", "cm", "m"]
    version = rng.choices(VERSIONS, [2, 3, 3, 3, 3, 3, 3])[0]
    return Office(
        rng.choices(styles, [s.weight for s in styles])[0],
        rng.choice(HABITS),
        language,
        rng.choice(units),
        version,
    )


def make_views(rng: random.Random, office: Office) -> tuple[list[View], float]:
    """The views of a sheet and its scale."""
    scale = rng.choice([48.0, 96.0, 64.0] if office.imperial else [50.0, 100.0, 100.0, 200.0])
    size, step = office.text_size * scale, 25.4 if office.imperial else 10.0
    note = office.language.scale.format(_scale_text(scale, office.imperial))
    count = rng.choices([0, 1, 2, 3, 4], [12, 34, 24, 12, 18])[0]
    titles = rng.sample(office.language.elevation, max(count, 1))
    views = [_elevation(rng, office, titles[i], note, size, step) for i in range(count)]
    others = rng.choices(["plan", "section", "detail"], [4, 3, 2], k=rng.choice([0, 1, 1, 2, 3]))
    if not count and not others:
        others = ["plan", "section"]
    for kind in others:
        views.append(_other(rng, office, kind, note, size, step))
    if rng.random() < 0.25:
        views.append(View("other", "", other_views.legend(rng, office.language, size)))
    if rng.random() < 0.12:
        views.append(View("other", "", non_elevations.schedule(rng, office.language, size)))
    if rng.random() < 0.12:
        views.append(View("other", "", non_elevations.table(rng, office.language, size)))
    if rng.random() < 0.25:
        views.append(View("other", "", other_views.scrap(rng, size)))
    rng.shuffle(views)
    return views, scale


def _scale_text(scale: float, imperial: bool) -> str:
    if imperial:
        return {48.0: '1/4" = 1\'-0"', 96.0: '1/8" = 1\'-0"', 64.0: '3/16" = 1\'-0"'}[scale]
    return f"1:{scale:.0f}"


def _elevation(
    rng: random.Random, office: Office, title: str, note: str, size: float, step: float
) -> View:
    """A facade with what stands around it."""
    claddings = ("boards", "slabs") if office.style.bare else CLADDINGS
    size_step = step * (1 if office.imperial else 5)
    facade = make_facade(rng, make_building(rng, size_step, claddings))
    shapes = facade_shapes(rng, facade, office.style)
    shapes += surroundings.ground_line(rng, facade)
    if rng.random() < 0.6:
        shapes += surroundings.level_marks(rng, facade, size, office.imperial)
    if rng.random() < 0.6:
        shapes += surroundings.dimensions(rng, facade, size)
    if rng.random() < 0.25:
        shapes += surroundings.grid(rng, facade, size)
    if rng.random() < 0.35:
        shapes += surroundings.plants(rng, facade)
    shapes += extras(rng, facade, size, office.language)
    return _with_title(rng, View("elevation", title, shapes, facade=facade), note, size)


def _with_title(rng: random.Random, view: View, note: str, size: float) -> View:
    """The view with its caption; one in seven has none."""
    if rng.random() < 0.15:
        view.title = ""
        return view
    note = note if rng.random() < 0.7 else ""
    view.caption = surroundings.titled(rng, view.shapes, view.title, note, size)
    return view


def _other(
    rng: random.Random, office: Office, kind: str, note: str, size: float, step: float
) -> View:
    """A plan, a section or a detail of some sort."""
    language = office.language
    if kind == "detail":
        shapes = other_views.detail(rng, language, size / 5)
        view = View(kind, rng.choice(language.detail), shapes, scale=5.0)
        return _with_title(rng, view, "", size / 5)
    if kind == "plan":
        sort = rng.choices(["floor", "roof", "site"], [3, 1, 1])[0]
        if sort == "floor":
            titles, shapes = language.plan, other_views.plan(rng, language, size, step)
        elif sort == "roof":
            titles, shapes = language.roof_plan, non_elevations.roof_plan(rng, size, step)
        else:
            titles, shapes = language.site_plan, non_elevations.site_plan(rng, size)
        return _with_title(rng, View(kind, rng.choice(titles), shapes), note, size)
    make = other_views.section if rng.random() < 0.75 else non_elevations.framing
    shapes = make(rng, size, step)
    return _with_title(rng, View(kind, rng.choice(language.section), shapes), note, size)
