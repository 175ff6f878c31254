"""One athlete: numbers now and their change, what pays, strength, programmes, restrictions, levels."""
