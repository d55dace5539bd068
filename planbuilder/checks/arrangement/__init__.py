"""Is there an arrangement at all, and are its records in date."""
