"""Drafting styles and a language that only kept-aside seeds use: nobody who tunes reads this."""

from corpus.styles import Style
from corpus.words import Language

STRANGE_STYLES: list[Style] = [
    Style("strange-chords", "lines", "old", arcs="chords", blocks="openings", gap=4.0, sloppy=0.2,
          doubled=0.5, texts="mtext", hatches="none"),
    Style("strange-mixed", "old", "unflagged", arcs="ellipse", blocks="nested", overshoot=60.0,
          sloppy=0.15, base=True, dims="entity"),
]  # fmt: skip
STRANGE_LANGUAGES: list[Language] = [
    Language(
        "it",
        ("PROSPETTO NORD", "PROSPETTO SUD", "Prospetto principale", "Prospetto est", "Fronte strada"),
        ("PIANTA PIANO TERRA", "Pianta piano primo"),
        ("SEZIONE A-A", "Sezione trasversale"),
        ("PARTICOLARE 1", "Particolare gronda"),
        ("Pianta copertura", "COPERTURA"),
        ("Planimetria generale", "Lotto"),
        "scala {}",
        ("Soggiorno", "Cucina", "Camera", "Bagno", "Ingresso", "Autorimessa"),
        ("Verificare le misure in cantiere", "Pietra naturale", "Vedi particolare", "Intonaco"),
        "LEGENDA", ("Progetto", "Committente", "Data", "Disegnato", "Tavola"),
        {"wall": "Murature", "opening": "Infissi", "sash": "Vetri", "roof": "Copertura",
         "texture": "Rivestimento", "ground": "Terreno", "dim": "Quote", "note": "Testi",
         "level": "Livelli", "grid": "Assi", "plant": "Alberi", "frame": "Squadratura",
         "plan": "Tramezzi", "hatch": "Campiture", "all": "Prospetti", "hidden": "Esistente"},
    )
]  # fmt: skip
