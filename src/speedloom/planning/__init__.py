"""From a brief to a programme."""
