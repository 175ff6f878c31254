"""The squad: a row an athlete, somebody new, and athletes side by side."""
