"""What stands on sheets in five languages: titles, rooms, notes, words for layers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Language:
    """Words of one language; ``layers`` gives the local word for a group of roles."""

    name: str
    elevation: tuple[str, ...]
    plan: tuple[str, ...]
    section: tuple[str, ...]
    detail: tuple[str, ...]
    roof_plan: tuple[str, ...]
    site_plan: tuple[str, ...]
    scale: str
    rooms: tuple[str, ...]
    notes: tuple[str, ...]
    legend: str
    block: tuple[str, ...]
    layers: dict[str, str]


ENGLISH = Language(
    "en",
    ("NORTH ELEVATION", "SOUTH ELEVATION", "EAST ELEVATION", "WEST ELEVATION", "FRONT ELEVATION",
     "REAR ELEVATION", "LEFT SIDE ELEVATION", "RIGHT ELEVATION", "ELEVATION A", "Elev. 1"),
    ("FIRST FLOOR PLAN", "GROUND FLOOR PLAN", "FLOOR PLAN", "SECOND FLOOR PLAN"),
    ("SECTION A-A", "CROSS SECTION", "BUILDING SECTION", "SECTION 1"),
    ("DETAIL 1", "EAVE DETAIL", "WINDOW SILL DETAIL", "TYP. WALL DETAIL"),
    ("ROOF PLAN", "Roof"),
    ("SITE PLAN", "Plot plan"),
    "SCALE: {}",
    ("LIVING", "KITCHEN", "BEDROOM", "BATH", "HALL", "GARAGE"),
    ("VERIFY ALL DIMENSIONS ON SITE", "FLASHING BY OTHERS", "SEE SCHEDULE", "STONE VENEER"),
    "LEGEND", ("PROJECT", "CLIENT", "DATE", "DRAWN", "SHEET"),
    {"wall": "Walls", "opening": "Windows", "sash": "Glazing", "roof": "Roof", "texture": "Siding",
     "ground": "Grade", "dim": "Dimensions", "note": "Text", "level": "Levels", "grid": "Gridlines",
     "plant": "Trees", "frame": "Title Block", "plan": "Plan Walls", "hatch": "Hatch",
     "all": "Elevation", "hidden": "Existing"},
)  # fmt: skip
GERMAN = Language(
    "de",
    ("Ansicht Nord", "Ansicht Süd", "Südansicht", "Westansicht", "Ansicht Ost", "Straßenansicht",
     "Gartenansicht", "Ansicht A", "Nordfassade"),
    ("Grundriss EG", "Grundriss OG", "Erdgeschoss", "Grundriss Keller"),
    ("Schnitt A-A", "Querschnitt", "Längsschnitt", "Schnitt 1-1"),
    ("Detail 1", "Traufdetail", "Detail Fensterbank", "Sockeldetail"),
    ("Dachaufsicht", "Dachdraufsicht"),
    ("Lageplan", "Außenanlagen"),
    "M {}",
    ("Wohnen", "Küche", "Zimmer", "Bad", "Flur", "Garage"),
    ("Maße am Bau prüfen", "OK Fertigfußboden", "siehe Statik", "Naturstein"),
    "Legende", ("Projekt", "Bauherr", "Datum", "gezeichnet", "Blatt"),
    {"wall": "Außenwand", "opening": "Fenster", "sash": "Flügel", "roof": "Dach",
     "texture": "Schalung", "ground": "Gelände", "dim": "Bemaßung", "note": "Text",
     "level": "Höhenkoten", "grid": "Achsen", "plant": "Bäume", "frame": "Plankopf",
     "plan": "Wände", "hatch": "Schraffur", "all": "Ansicht", "hidden": "Bestand"},
)  # fmt: skip
FRENCH = Language(
    "fr",
    ("FAÇADE NORD", "FAÇADE SUD", "Façade Est", "Façade ouest", "ÉLÉVATION PRINCIPALE",
     "Façade sur rue", "Pignon gauche", "Elévation arrière"),
    ("PLAN RDC", "Plan du rez-de-chaussée", "PLAN ETAGE"),
    ("COUPE A-A", "Coupe transversale", "Coupe longitudinale"),
    ("Détail 1", "DETAIL ACROTERE", "Détail appui de fenêtre"),
    ("Plan de toiture", "TOITURE"),
    ("PLAN DE MASSE", "Plan de situation"),
    "Ech : {}",
    ("Séjour", "Cuisine", "Chambre", "SdB", "Entrée", "Garage"),
    ("Cotes à vérifier sur place", "Pierre naturelle", "Voir détail", "Enduit"),
    "LÉGENDE", ("Projet", "Maître d'ouvrage", "Date", "Dessiné", "Planche"),
    {"wall": "Murs", "opening": "Menuiseries", "sash": "Vitrage", "roof": "Toiture",
     "texture": "Bardage", "ground": "Terrain", "dim": "Cotations", "note": "Textes",
     "level": "Niveaux", "grid": "Axes", "plant": "Arbres", "frame": "Cartouche",
     "plan": "Cloisons", "hatch": "Hachures", "all": "Façade", "hidden": "Existant"},
)  # fmt: skip
SPANISH = Language(
    "es",
    ("ALZADO NORTE", "ALZADO SUR", "Alzado principal", "Alzado lateral", "FACHADA ESTE",
     "Fachada posterior", "ELEVACIÓN OESTE"),
    ("PLANTA BAJA", "Planta primera", "Planta tipo"),
    ("SECCIÓN A-A'", "Corte transversal", "Sección longitudinal"),
    ("DETALLE 1", "Detalle de alero", "Detalle vierteaguas"),
    ("PLANTA DE CUBIERTA", "Cubiertas"),
    ("Emplazamiento", "SITUACIÓN"),
    "ESC. {}",
    ("Salón", "Cocina", "Dormitorio", "Baño", "Pasillo", "Garaje"),
    ("Comprobar medidas en obra", "Piedra natural", "Ver detalle", "Mortero"),
    "LEYENDA", ("Proyecto", "Promotor", "Fecha", "Dibujado", "Plano"),
    {"wall": "Muros", "opening": "Ventanas", "sash": "Carpinteria", "roof": "Cubierta",
     "texture": "Revestimiento", "ground": "Terreno", "dim": "Cotas", "note": "Textos",
     "level": "Niveles", "grid": "Ejes", "plant": "Arboles", "frame": "Cajetin",
     "plan": "Tabiques", "hatch": "Tramas", "all": "Alzado", "hidden": "Existente"},
)  # fmt: skip
DUTCH = Language(
    "nl",
    ("VOORGEVEL", "ACHTERGEVEL", "Linker zijgevel", "Rechter zijgevel", "NOORDGEVEL", "Gevel zuid",
     "Aanzicht west"),
    ("BEGANE GROND", "Verdieping", "Plattegrond begane grond"),
    ("DOORSNEDE A-A", "Doorsnede B", "Langsdoorsnede"),
    ("DETAIL 1", "Detail goot", "Detail kozijn onder"),
    ("DAKAANZICHT", "Dakplan"),
    ("Situatie", "SITUATIETEKENING"),
    "schaal {}",
    ("Woonkamer", "Keuken", "Slaapkamer", "Badkamer", "Hal", "Berging"),
    ("Maten in het werk controleren", "Natuursteen", "zie detail", "Metselwerk"),
    "RENVOOI", ("Project", "Opdrachtgever", "Datum", "Getekend", "Blad"),
    {"wall": "Gevels", "opening": "Kozijnen", "sash": "Glas", "roof": "Dak",
     "texture": "Gevelbekleding", "ground": "Maaiveld", "dim": "Maatvoering", "note": "Tekst",
     "level": "Peilmaten", "grid": "Stramien", "plant": "Bomen", "frame": "Kader",
     "plan": "Binnenwanden", "hatch": "Arcering", "all": "Aanzicht", "hidden": "Bestaand"},
)  # fmt: skip
LANGUAGES = (ENGLISH, GERMAN, FRENCH, SPANISH, DUTCH)
