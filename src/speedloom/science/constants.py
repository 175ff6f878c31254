"""Physical constants shared by the formulas."""

from typing import Final

STANDARD_GRAVITY_MPS2: Final = 9.80665
"""Standard acceleration of free fall (m/s²), by definition of the 3rd CGPM, 1901."""
