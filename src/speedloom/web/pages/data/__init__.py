"""A squad's data: taken away, erased, who did what, and where it lies."""
