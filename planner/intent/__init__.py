"""What we want of a house: one alternative."""
