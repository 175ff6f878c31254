"""Every formula a basis node may name, once more and by own code: from resolved arguments to the value."""
