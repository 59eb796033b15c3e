"""The sizes of paper that documents are printed on."""

from typing import Literal

Paper = Literal["A4", "Letter"]
"""ISO 216 A4, or the North American letter size."""
