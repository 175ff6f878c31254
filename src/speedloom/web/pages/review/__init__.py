"""The review: planned beside done."""
