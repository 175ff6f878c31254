"""Values into words."""
