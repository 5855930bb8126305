"""Permit plans for lawn-sprinkler connections to a drinking-water service, from one design file."""

__version__ = "0.1.0"
