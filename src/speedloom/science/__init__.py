"""Numbers in, numbers out: formulas that know no athlete."""
