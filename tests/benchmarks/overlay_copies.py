"""What the copy of a large drawing costs: python tests/benchmarks/overlay_copies.py [--beside TREE]
[--sizes 100000,500000]

Reads the walls of one house of made drawings (``big_drawings``), lays no panels, and writes the
overlay, each way in a process of its own: alone (``--overlay-only``) and as a copy of the drawing.
``--beside`` does the same with the package of another tree of the project, in the same run. Prints
processor seconds and peak memory, and the seconds of writing the copied bytes alone.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from big_drawings import make

ROOT = Path(__file__).parents[2]
_SCRIPT = """
import sys
from pathlib import Path
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.writers.overlay import write_overlay
drawing, target, only = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3] == "only"
asked = {"layers.wall": ("A-WALL-HOUSE",), "layers.opening": ("A-OPNG-HOUSE",)}
asked |= {"plan.panels": False, "output.overlay_only": only}
job = load_job(None, asked)
made = take_off([drawing], job)
write_overlay(made, made.drawings[0], drawing, target)
"""


def cost(tree: Path, drawing: Path, way: str) -> tuple[float, float]:
    """Processor seconds and peak megabytes of one process."""
    command = [sys.executable, "-c", _SCRIPT, str(drawing), str(drawing.with_name("o.dxf")), way]
    process = subprocess.Popen(command, env=os.environ | {"PYTHONPATH": str(tree)}, cwd=tree)
    _, status, used = os.wait4(process.pid, 0)
    if status:
        raise SystemExit(f"{tree}: {way} failed")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main() -> None:
    """Print a row for each size, tree and way."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--beside", type=Path)
    parser.add_argument("--sizes", default="100000,500000")
    asked = parser.parse_args()
    trees = {"this": ROOT} | ({"beside": asked.beside.resolve()} if asked.beside else {})
    with tempfile.TemporaryDirectory() as folder:
        for size in map(int, asked.sizes.split(",")):
            drawing = Path(folder) / f"{size}.dxf"
            make(drawing, size)
            begin = time.process_time()
            (Path(folder) / "bytes.dxf").write_bytes(drawing.read_bytes())
            print(f"{size:,} entities; bytes alone {time.process_time() - begin:.2f} s")
            for name, tree in trees.items():
                for way in ("only", "copy"):
                    seconds, megabytes = cost(tree, drawing, way)
                    print(f"  {name:7} {way:5} {seconds:7.2f} s {megabytes:6.0f} MB", flush=True)


if __name__ == "__main__":
    main()
