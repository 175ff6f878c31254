"""One picture a file."""
