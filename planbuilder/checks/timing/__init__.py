"""How long it takes and how long there is: clocks, drills, limits by hazard, ways."""
