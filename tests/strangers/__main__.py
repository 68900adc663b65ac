"""Writes drawings and their truth: ``python -m strangers OUTDIR A..B``, in ``tests``."""

from __future__ import annotations

import argparse
import json
import logging
from pathlib import Path

import ezdxf

from .sheet import make_sheet


def main() -> None:
    """Write a drawing and its truth for every seed of a range."""
    parser = argparse.ArgumentParser(prog="strangers", description=__doc__)
    parser.add_argument("outdir", type=Path)
    parser.add_argument("seeds", help="A..B, both included")
    args = parser.parse_args()
    first, _, last = args.seeds.partition("..")
    ezdxf.options.write_fixed_meta_data_for_testing = True
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    args.outdir.mkdir(parents=True, exist_ok=True)
    for seed in range(int(first), int(last or first) + 1):
        doc, truth = make_sheet(seed)
        doc.saveas(args.outdir / f"s{seed:03d}.dxf")
        text = json.dumps(truth, indent=1, ensure_ascii=False)
        (args.outdir / f"s{seed:03d}.truth.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
