"""How long a rescue takes and how long the casualty has. Pure functions."""
