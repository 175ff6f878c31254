"""Physical constants shared by the formulas."""

from typing import Final

STANDARD_GRAVITY_MPS2: Final = 9.80665
"""Standard acceleration of free fall (m/s²), by definition of the 3rd CGPM, 1901."""

BAND_90_SD = 1.644854
"""Standard deviations from the middle of a 90 % band to its end (normal distribution)."""
