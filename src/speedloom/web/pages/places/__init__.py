"""Places and kit: where is trained, and what stands there."""
