"""Tests: typed, pasted or from a file, looked at before they are kept, struck out when wrong."""
