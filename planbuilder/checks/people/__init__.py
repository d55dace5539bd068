"""Who does it: places and people, training, shifts, services, care on the spot."""
