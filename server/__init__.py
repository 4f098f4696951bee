"""Mudproof: a household's growing season, worked out as jobs."""

__version__ = "0.1.0"
