"""From a Plan to what a reader sees: all wording, order, units and rounding. Strings only."""
