"""Files of site measures that tests write."""

from __future__ import annotations

from dxf2veneer.config.site_file import load_site


def sheet(folder, text):
    """The sheet of a text."""
    path = folder / "site.toml"
    path.write_text(text, encoding="utf-8")
    return load_site(path)
