"""The rulebook as a squad has it: every number with source and mark, and the coach's changes."""
