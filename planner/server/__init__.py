"""One server for all three apps: who comes in by which door, and what may leave by it."""

import os

LARGEST_OUTPUT = 200_000_000
"""What one cell of a notebook may show [bytes]: the tables of a house, as large as they may be, stand in the page."""

os.environ.setdefault("MARIMO_OUTPUT_MAX_BYTES", str(LARGEST_OUTPUT))  # the framework reads it when it is imported
