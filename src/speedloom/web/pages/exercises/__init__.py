"""The catalogue of exercises, and which of them a squad prefers or leaves out."""
