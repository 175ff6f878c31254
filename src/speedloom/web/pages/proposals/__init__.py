"""Sharper numbers: what the log would move, accepted one by one or together."""
