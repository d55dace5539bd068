"""Code profiles: the rule set of a jurisdiction as data."""
