"""Today: what is trained, and what waits."""
