"""Room: fall clearance, what passes an opening, height of lift. Pure functions."""
