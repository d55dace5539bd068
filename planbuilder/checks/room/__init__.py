"""Is there room: through the opening, under the hook, below a fall."""
