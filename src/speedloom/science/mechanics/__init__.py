"""Sprint, resisted sprint and jump mechanics."""
