"""Air: of those who go in with sets, and of the space itself."""
