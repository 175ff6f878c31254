"""Printed sheets and books."""
