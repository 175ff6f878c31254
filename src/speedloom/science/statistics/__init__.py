"""Changes, reliability and load over time."""
