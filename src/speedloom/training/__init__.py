"""The vocabulary: frozen objects, no formulas."""
