"""Lets ``python -m planbuilder`` do what the ``planbuilder`` command does."""

from planbuilder.cli import main

if __name__ == "__main__":
    main(prog_name="planbuilder")
