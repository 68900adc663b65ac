"""What a proposal is written as.

drawn.py      the drawing itself, in grey
picture.py    the drawing with every view, wall and opening numbered (SVG)
job_file.py   a job file that takes it off (TOML)
result.py     its outlines for programs (JSON)
"""

from dxf2veneer.writers.proposal.job_file import write_job
from dxf2veneer.writers.proposal.picture import write_picture
from dxf2veneer.writers.proposal.result import write_result

__all__ = ["write_job", "write_picture", "write_result"]
