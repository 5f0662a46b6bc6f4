"""Alternatives that a designer keeps, and answers that clients and the team give."""
