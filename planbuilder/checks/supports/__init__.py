"""What holds the line: each kind of support, from its head to the ground."""
