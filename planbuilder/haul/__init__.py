"""Raising a casualty: load, drum, haul time, rope systems, edge friction, base. Pure functions."""
