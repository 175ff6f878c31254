"""Numbers in, numbers out: published formulas and fits that know no athlete."""
