"""The command line as ``python -m dxf2veneer``."""

from __future__ import annotations

from dxf2veneer.cli import main

if __name__ == "__main__":
    main(prog_name="dxf2veneer")
