"""Hanging in a harness: minutes vary widely between people, so a limit is a choice.

Lying flat ends it; what comes first is that somebody is with the casualty.
"""

CONTACT_LIMIT_S = 360.0
"""Somebody is with the casualty within 6 min (consensus standard, clause not seen, recalled)."""
