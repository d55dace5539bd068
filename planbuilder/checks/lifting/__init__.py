"""What pulls: winches and ropes, their people, and every part of the line."""
