"""Mouldings: curves, members, and the orders drawn in them."""
