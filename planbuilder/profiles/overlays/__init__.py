"""Overlays as data: stricter layers of a state, a province or a host employer."""
