"""Links without an account: a calendar feed, one athlete's sheet; made, listed and taken back."""
